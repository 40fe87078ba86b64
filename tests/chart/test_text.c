/* Texts of a picture: widths on the safe side, cut to a width, powers of ten. */
#include <math.h>
#include <string.h>
#include "check_close.h"
#include "chart/chart.h"

typedef struct fixture {
    hf_text out;
    hf_report_style style;
    hf_chart chart;
} fixture;

static void open_chart(fixture *f) {
    memset(f, 0, sizeof *f);
    f->style = (hf_report_style){hf_unit_find("N", 1), 9.80665, 80, false, HF_STRIP_NONE};
    f->chart.out = &f->out;
    f->chart.words = hf_document_for(hf_arena_create(), &f->style);
}

static void close_chart(fixture *f) {
    hf_text_free(&f->out);
    hf_arena_free(f->chart.words.arena);
}

START_TEST(widths_should_be_those_of_a_wide_font) {
    /* Advances of DejaVu Sans, units of 1/2048 em, read with fontTools: W 2025, i 569, 0 1303. */
    ck_assert_double_ge(hf_label_width("W"), 2025.0 / 2048 * HF_FONT);
    ck_assert_double_ge(hf_label_width("i"), 569.0 / 2048 * HF_FONT);
    ck_assert_double_ge(hf_label_width("0000"), 4 * 1303.0 / 2048 * HF_FONT);
    ck_assert_double_le(hf_label_width("0000"), 1.1 * 4 * 1303.0 / 2048 * HF_FONT);
    ck_assert_double_ge(hf_label_width("缝合"), 2 * HF_FONT);
    hf_check_close(hf_label_width("e\xCC\x81"), hf_label_width("e"), HF_TOLERANCE_EXACT,
                   "a mark takes no room");
}
END_TEST

START_TEST(only_unknown_scripts_should_be_pressed) {
    ck_assert(!hf_label_is_pressed("sewn ring 100 %, −3 × 10⁶ ≤ ∞ …"));
    ck_assert(!hf_label_is_pressed("naïve Öse Щука שרוול حلقة 缝合"));
    ck_assert(hf_label_is_pressed("क्षत्रिय"));
    ck_assert(hf_label_is_pressed("🧵"));
}
END_TEST

START_TEST(cut_should_keep_to_the_width) {
    static const char *const names[] = {"sewn ring of the third roll, as delivered",
                                        "WWWWWWWWWWWWWWWWWWWWWWWW", "缝合环角件强度试验缝合环角件强度试验",
                                        "😀😀😀😀😀😀😀😀😀😀😀😀"};
    fixture f;
    open_chart(&f);
    for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
        const char *cut = hf_chart_cut(&f.chart, names[i], 120);
        ck_assert_double_le(hf_label_width(cut), 120);
        ck_assert_double_ge(hf_label_width(cut), 80);
        ck_assert_ptr_nonnull(strstr(cut, "…"));
    }
    ck_assert_str_eq(hf_chart_cut(&f.chart, "ring-01", 120), "ring-01");
    close_chart(&f);
}
END_TEST

START_TEST(cut_should_tame_names) {
    fixture f;
    open_chart(&f);
    ck_assert_str_eq(hf_chart_cut(&f.chart,
                                  "a\x01\xE2\x80\xAE"
                                  "b",
                                  120),
                     "a  b");
    /* U+2068 and U+2069 around what is not plain, so that numbers beside it keep their place. */
    ck_assert_str_eq(hf_chart_cut(&f.chart, "שרוול", 120), "\xE2\x81\xA8שרוול\xE2\x81\xA9");
    char heap[2 + 2 * 500] = "a";
    for (size_t i = 0; i < 500; i++) memcpy(heap + 1 + 2 * i, "\xCC\x81", 2);
    ck_assert_uint_lt(strlen(hf_chart_cut(&f.chart, heap, 120)), 20);
    close_chart(&f);
}
END_TEST

START_TEST(loads_should_be_written_with_powers_of_ten) {
    fixture f;
    open_chart(&f);
    ck_assert_str_eq(hf_chart_load(&f.chart, 1.061e7), "1.06×10⁷ N");
    ck_assert_str_eq(hf_chart_load_down(&f.chart, 5.929e-9), "5.92×10⁻⁹ N");
    ck_assert_str_eq(hf_chart_load_down(&f.chart, 734.99), "734 N");
    ck_assert_str_eq(hf_chart_load(&f.chart, NAN), "-");
    hf_chart_add_times_power(&f.out, -219);
    ck_assert_str_eq(f.out.bytes, "×10⁻²¹⁹");
    close_chart(&f);
}
END_TEST

START_TEST(texts_should_never_lie_over_each_other) {
    fixture f;
    open_chart(&f);
    f.chart.width = f.chart.height = 10000;
    size_t printed = 0;
    for (size_t i = 0; i < 1500; i++)
        printed += hf_label_put(&f.chart, (hf_point){50, 20 + 6.0 * (double)i}, HF_ANCHOR_START, "part");
    /* Boxes of 17 at steps of 6: every third one finds its place, far beyond any fixed number of labels. */
    ck_assert_uint_eq(printed, 500);
    ck_assert_uint_eq(f.chart.taken_count, 500);
    ck_assert(!hf_label_put(&f.chart, (hf_point){9999, 30}, HF_ANCHOR_START, "beyond the edge"));
    close_chart(&f);
}
END_TEST

static Suite *suite(void) {
    Suite *out = suite_create("chart texts");
    TCase *text = tcase_create("text");
    tcase_add_test(text, widths_should_be_those_of_a_wide_font);
    tcase_add_test(text, only_unknown_scripts_should_be_pressed);
    tcase_add_test(text, cut_should_keep_to_the_width);
    tcase_add_test(text, cut_should_tame_names);
    tcase_add_test(text, loads_should_be_written_with_powers_of_ten);
    tcase_add_test(text, texts_should_never_lie_over_each_other);
    suite_add_tcase(out, text);
    return out;
}

HF_TEST_MAIN(suite)
