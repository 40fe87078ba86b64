/* Pictures as PNG: drawn from the SVG by a program made for that, which need not be there. */
#ifndef HF_COMMAND_PNG_H
#define HF_COMMAND_PNG_H

#include "command/common.h"

#define HF_PNG_PROGRAM "rsvg-convert"
#define HF_PNG_PACKAGE "librsvg2-bin"

/* The output is to be a file whose name ends in ".png". */
bool hf_png_wanted(const hf_output_values *output);

/* Puts the PNG in the place of the SVG, so many dots wide; 0: as many as the drawing has units. HF_FILE, naming the package, where the
 * program is not installed. */
hf_status hf_png_make(hf_request *request, hf_text *picture, size_t width);

#endif
