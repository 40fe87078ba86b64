/* Sorting and selecting: quicksort that changes to heapsort when the cuts go badly. */
#include "holdfast/numeric/vector.h"

#include <assert.h>
#include <stdbool.h>

enum { SMALL = 24 };

static void insertion_sort(double *x, size_t count) {
    for (size_t i = 1; i < count; i++) {
        double value = x[i];
        size_t j = i;
        for (; j > 0 && x[j - 1] > value; j--) x[j] = x[j - 1];
        x[j] = value;
    }
}

static void sift_down(double *x, size_t root, size_t count) {
    double value = x[root];
    for (size_t child; (child = 2 * root + 1) < count; root = child) {
        if (child + 1 < count && x[child + 1] > x[child]) child++;
        if (x[child] <= value) break;
        x[root] = x[child];
    }
    x[root] = value;
}

static void heap_sort(double *x, size_t count) {
    for (size_t i = count / 2; i-- > 0;) sift_down(x, i, count);
    for (size_t end = count; end-- > 1;) {
        double top = x[0];
        x[0] = x[end];
        x[end] = top;
        sift_down(x, 0, end);
    }
}

static void swap_if_above(double *a, double *b) {
    if (*a > *b) {
        double kept = *a;
        *a = *b;
        *b = kept;
    }
}

/* Cuts x at the median of three; returns i with x[0..i] ≤ x[i+1..count), 0 ≤ i < count − 1. count ≥ 3. */
static size_t partition(double *x, size_t count) {
    double *middle = x + (count - 1) / 2, *last = x + count - 1;
    swap_if_above(x, middle);
    swap_if_above(middle, last);
    swap_if_above(x, middle);
    double pivot = *middle;
    size_t i = 0, j = count - 1;
    for (;;) {
        while (x[i] < pivot) i++;
        while (x[j] > pivot) j--;
        if (i >= j) return j;
        swap_if_above(&x[i], &x[j]);
        i++;
        j--;
    }
}

static int cuts_allowed(size_t count) {
    int cuts = 0;
    for (; count > 0; count /= 2) cuts += 2;
    return cuts;
}

static void sort_within(double *x, size_t count, int cuts) {
    while (count > SMALL) {
        if (cuts-- == 0) {
            heap_sort(x, count);
            return;
        }
        size_t left = partition(x, count) + 1;
        if (left < count - left) {
            sort_within(x, left, cuts);
            x += left;
            count -= left;
        } else {
            sort_within(x + left, count - left, cuts);
            count = left;
        }
    }
    insertion_sort(x, count);
}

void hf_vector_sort(double *x, size_t count) {
    sort_within(x, count, cuts_allowed(count));
}

double hf_vector_select(double *x, size_t count, size_t k) {
    assert(k < count);
    int cuts = cuts_allowed(count);
    while (count > SMALL && cuts-- > 0) {
        size_t left = partition(x, count) + 1;
        if (k < left) {
            count = left;
        } else {
            x += left;
            count -= left;
            k -= left;
        }
    }
    sort_within(x, count, cuts_allowed(count));
    return x[k];
}
