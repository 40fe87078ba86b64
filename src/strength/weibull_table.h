/* The shipped table of √n·(w + q), made by tests/tools/make_weibull_table.c. */
#ifndef HF_STRENGTH_WEIBULL_TABLE_H
#define HF_STRENGTH_WEIBULL_TABLE_H

enum { HF_WEIBULL_SIZES = 63, HF_WEIBULL_CONTENTS = 16, HF_WEIBULL_CONFIDENCES = 13, HF_WEIBULL_TAIL = 2 };

extern const int hf_weibull_sizes[HF_WEIBULL_SIZES];
extern const double hf_weibull_contents[HF_WEIBULL_CONTENTS];
extern const double hf_weibull_confidences[HF_WEIBULL_CONFIDENCES];
extern const double hf_weibull_table[HF_WEIBULL_SIZES][HF_WEIBULL_CONTENTS][HF_WEIBULL_CONFIDENCES];
/* Standard errors of the same, 0 where the value is exact (n = 2). */
extern const float hf_weibull_table_error[HF_WEIBULL_SIZES][HF_WEIBULL_CONTENTS][HF_WEIBULL_CONFIDENCES];
/* Confidences beyond, from fewer samples (weibull_tail_table.c): value and standard error. The last is the largest that is known. */
extern const double hf_weibull_tail_confidences[HF_WEIBULL_TAIL];
extern const double hf_weibull_tail[HF_WEIBULL_SIZES][HF_WEIBULL_CONTENTS][HF_WEIBULL_TAIL][2];

#endif
