#include "command/terminal.h"

#include <stdio.h>
#include <string.h>
#include "holdfast/numeric/parallel.h"
#include "platform/clock.h"

enum { BAR = 40 };

static void draw(double done, void *context) {
    hf_progress *progress = context;
    if (!progress->drawn && hf_platform_seconds() - progress->start_s < 1) return;
    char bar[BAR + 1];
    int filled = done <= 0 ? 0 : done >= 1 ? BAR : (int)(done * BAR);
    memset(bar, '.', BAR);
    memset(bar, '#', (size_t)filled);
    bar[BAR] = '\0';
    fprintf(stderr, "\r[%s] %3d %%", bar, (int)(100 * done));
    fflush(stderr);
    progress->drawn = true;
}

void hf_progress_start(hf_progress *progress, const hf_terminal *terminal) {
    memset(progress, 0, sizeof *progress);
    progress->active = terminal->errors;
    progress->start_s = hf_platform_seconds();
    if (progress->active) hf_parallel_set_progress(draw, progress);
}

void hf_progress_stop(hf_progress *progress) {
    if (!progress->active) return;
    hf_parallel_set_progress(NULL, NULL);
    if (progress->drawn) fprintf(stderr, "\r%*s\r", BAR + 8, "");
    progress->active = false;
}
