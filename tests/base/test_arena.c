/* Memory from an arena is zeroed, aligned, its own, and stays where it is. */
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>
#include "check_close.h"
#include "holdfast/base/arena.h"

static bool all_zero(const unsigned char *bytes, size_t length) {
    for (size_t i = 0; i < length; i++)
        if (bytes[i]) return false;
    return true;
}

/* Sizes around the chunk size, so that full, new and large chunks all come up. */
static const size_t sizes[] = {1, 7, 32, 33, 1000, 65535, 65536, 65537, 200000, 3, 64000, 1535, 5, 1};
enum { SIZES = sizeof sizes / sizeof *sizes };

START_TEST(pieces_are_zeroed_aligned_and_apart) {
    hf_arena *arena = hf_arena_create();
    unsigned char *pieces[SIZES];
    for (size_t i = 0; i < SIZES; i++) {
        pieces[i] = hf_arena_array(arena, sizes[i], 1);
        ck_assert_ptr_nonnull(pieces[i]);
        ck_assert_uint_eq((uintptr_t)pieces[i] % _Alignof(max_align_t), 0);
        ck_assert(all_zero(pieces[i], sizes[i]));
        memset(pieces[i], (int)i + 1, sizes[i]);
    }
    for (size_t i = 0; i < SIZES; i++)
        for (size_t j = 0; j < sizes[i]; j++) ck_assert_uint_eq(pieces[i][j], i + 1);
    hf_arena_free(arena);
}
END_TEST

START_TEST(overflow_is_refused) {
    hf_arena *arena = hf_arena_create();
    ck_assert_ptr_null(hf_arena_array(arena, SIZE_MAX, 2));
    ck_assert_ptr_null(hf_arena_array(arena, SIZE_MAX / 8 + 1, 8));
    ck_assert_ptr_null(hf_arena_array(arena, SIZE_MAX, 1));
    ck_assert_ptr_null(hf_arena_array(arena, SIZE_MAX - 40, 1));
    ck_assert_ptr_null(hf_arena_text(arena, "x", SIZE_MAX));
    ck_assert_ptr_nonnull(hf_arena_array(arena, 4, 4));
    hf_arena_free(arena);
}
END_TEST

START_TEST(nothing_is_a_valid_piece) {
    hf_arena *arena = hf_arena_create();
    ck_assert_ptr_nonnull(hf_arena_array(arena, 0, 8));
    ck_assert_ptr_nonnull(hf_arena_array(arena, 8, 0));
    ck_assert_str_eq(hf_arena_text(arena, NULL, 0), "");
    hf_arena_free(arena);
    hf_arena_free(NULL);
}
END_TEST

START_TEST(texts_are_copies) {
    hf_arena *arena = hf_arena_create();
    char original[] = "ring-01";
    char *copy = hf_arena_text(arena, original, 4), *long_text;
    original[0] = 'k';
    ck_assert_str_eq(copy, "ring");
    ck_assert_str_eq(hf_arena_format(arena, "%s has %d pulls, %.1f N", copy, 7, 812.44),
                     "ring has 7 pulls, 812.4 N");
    long_text = hf_arena_format(arena, "%0100000d", 5);
    ck_assert_uint_eq(strlen(long_text), 100000);
    hf_arena_free(arena);
}
END_TEST

START_TEST(a_child_lives_on_in_its_parent) {
    hf_arena *arena = hf_arena_create(), *child = hf_arena_create(), *empty = hf_arena_create();
    char *first = hf_arena_text(arena, "first", 5), *second = hf_arena_text(child, "second", 6);
    char *large = hf_arena_array(child, 300000, 1);
    size_t bytes = hf_arena_bytes(arena) + hf_arena_bytes(child);
    memset(large, 'z', 300000);
    hf_arena_adopt(arena, child);
    hf_arena_adopt(arena, empty);
    hf_arena_adopt(arena, NULL);
    ck_assert_uint_eq(hf_arena_bytes(arena), bytes);
    ck_assert_ptr_nonnull(hf_arena_array(arena, 1000, 100));
    ck_assert_str_eq(first, "first");
    ck_assert_str_eq(second, "second");
    ck_assert_int_eq(large[299999], 'z');
    hf_arena_free(arena);

    hf_arena *bare = hf_arena_create(), *full = hf_arena_create();
    second = hf_arena_text(full, "second", 6);
    hf_arena_adopt(bare, full);
    ck_assert_str_eq(second, "second");
    ck_assert_str_eq(hf_arena_text(bare, "third", 5), "third");
    hf_arena_free(bare);
}
END_TEST

START_TEST(small_pieces_share_a_chunk) {
    hf_arena *arena = hf_arena_create();
    ck_assert_uint_eq(hf_arena_bytes(arena), 0);
    for (int i = 0; i < 1000; i++) ck_assert_ptr_nonnull(hf_arena_array(arena, 1, 16));
    ck_assert_uint_ge(hf_arena_bytes(arena), 16000);
    ck_assert_uint_le(hf_arena_bytes(arena), 3 * 64 * 1024); /* 1000 pieces on 32-byte grain */
    hf_arena_free(arena);
}
END_TEST

static Suite *arena_suite(void) {
    Suite *suite = suite_create("base_arena");
    TCase *all = tcase_create("arena");
    tcase_add_test(all, pieces_are_zeroed_aligned_and_apart);
    tcase_add_test(all, overflow_is_refused);
    tcase_add_test(all, nothing_is_a_valid_piece);
    tcase_add_test(all, texts_are_copies);
    tcase_add_test(all, a_child_lives_on_in_its_parent);
    tcase_add_test(all, small_pieces_share_a_chunk);
    suite_add_tcase(suite, all);
    return suite;
}

HF_TEST_MAIN(arena_suite)
