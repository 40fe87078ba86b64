/* Switches the error handler of the GNU Scientific Library off, once; its default ends the program. */
#ifndef HOLDFAST_NUMERIC_LIBRARY_H
#define HOLDFAST_NUMERIC_LIBRARY_H

void hf_library_start(void);

#endif
