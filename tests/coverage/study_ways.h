/* Two ways of failing that scatter differently: what the bound that takes the pulls as they came is worth, and the one by ways. Writes a section
 * of docs/coverage.md to standard output. */
#ifndef HF_TESTS_COVERAGE_STUDY_WAYS_H
#define HF_TESTS_COVERAGE_STUDY_WAYS_H

void hf_study_ways(double scale);

#endif
