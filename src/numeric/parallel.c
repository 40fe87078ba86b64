#include "holdfast/numeric/parallel.h"
#include "platform/clock.h"

#ifdef _OPENMP
#include <omp.h>
#endif

static int wanted_threads;
static hf_progress_function progress_function;
static void *progress_context;

void hf_parallel_set_threads(int threads) {
    wanted_threads = threads > 0 ? threads : 0;
}

int hf_parallel_threads(void) {
#ifdef _OPENMP
    return wanted_threads > 0 ? wanted_threads : omp_get_num_procs();
#else
    return 1;
#endif
}

void hf_parallel_set_progress(hf_progress_function function, void *context) {
    progress_function = function;
    progress_context = context;
}

typedef struct watch {
    size_t done, blocks;
    double last;
} watch;

static void count_block(watch *w) {
    w->done++;
    double now = hf_platform_seconds();
    if (now - w->last < 0.1) return;
    w->last = now;
    progress_function((double)w->done / (double)w->blocks, progress_context);
}

void hf_parallel_blocks(size_t blocks, hf_parallel_function work, void *context) {
    watch w = {0, blocks, hf_platform_seconds()};
#ifdef _OPENMP
    int threads = hf_parallel_threads();
#pragma omp parallel for schedule(dynamic, 1) num_threads(threads) default(none)                             \
    shared(w, blocks, work, context, progress_function)
    for (size_t block = 0; block < blocks; block++) {
        work(block, omp_get_thread_num(), context);
        if (progress_function != NULL) {
#pragma omp critical(hf_parallel_progress)
            count_block(&w);
        }
    }
#else
    for (size_t block = 0; block < blocks; block++) {
        work(block, 0, context);
        if (progress_function != NULL) count_block(&w);
    }
#endif
}
