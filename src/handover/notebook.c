/* The order of a notebook. Its fixed pages, words and Python, lie as files in notebook_pages/. */
#include "holdfast/handover/notebook.h"

#include <string.h>
#include "base/version_number.h"
#include "holdfast/base/json.h"
#include "pages/notebook.h"
#include "handover/notebook_parts.h"

void hf_notebook_end_markdown(hf_notebook_writer *w) {
    hf_cell_markdown(&w->cells, w->text.bytes ? w->text.bytes : "");
    hf_text_free(&w->text);
}

void hf_notebook_end_code(hf_notebook_writer *w, bool hidden) {
    hf_cell_code(&w->cells, w->text.bytes ? w->text.bytes : "", hidden);
    hf_text_free(&w->text);
}

bool hf_notebook_compares(const hf_notebook_writer *w) {
    return w->study->comparison && w->study->comparison->count > 1;
}

static void add_words(hf_notebook_writer *w, const char *const *page) {
    hf_text_add_lines(&w->text, page);
    hf_notebook_end_markdown(w);
}

static void add_code(hf_notebook_writer *w, const char *const *page) {
    hf_text_add_lines(&w->text, page);
    hf_notebook_end_code(w, false);
}

/* What of the results is met again below. */
static void add_about(hf_notebook_writer *w) {
    bool compared = hf_notebook_compares(w);
    hf_text_add_lines(&w->text, hf_page_about_md);
    hf_text_addf(
        &w->text,
        "\nRedone: the strength of every pull, fits, factors, bounds, the working load%s. Not redone: tests "
        "of fit, of outliers and of batches, and the rules of the trade%s.\n",
        compared ? ", ratios and verdicts of the comparison" : "",
        !compared                                     ? ""
        : w->study->comparison->options.verdicts_only ? "; ways of failing"
                                                      : "; relabeling and ways of failing");
    hf_notebook_end_markdown(w);
}

/* One cell a design, so that one that disagrees does not hide the others. */
static void add_checks(hf_notebook_writer *w) {
    hf_text_add(&w->text, "### Each design, computed again\n");
    hf_notebook_end_markdown(w);
    for (size_t i = 0; i < w->study->assessment->count; i++) {
        hf_text_addf(&w->text, "check_design(CAMPAIGN[\"designs\"][%zu])\n", i);
        hf_notebook_end_code(w, false);
    }
}

static void add_cells(hf_notebook_writer *w) {
    hf_notebook_title(w);
    hf_notebook_results(w);
    hf_notebook_data(w);
    add_about(w);
    hf_notebook_file(w);
    hf_notebook_numbers(w);
    add_words(w, hf_page_tools_md);
    add_code(w, hf_page_tools_py);
    add_words(w, hf_page_pulls_md);
    add_code(w, hf_page_pulls_py);
    add_words(w, hf_page_laws_md);
    add_code(w, hf_page_laws_py);
    add_words(w, hf_page_bounds_md);
    add_code(w, hf_page_factors_py);
    add_code(w, hf_page_bounds_py);
    add_checks(w);
    if (hf_notebook_compares(w)) {
        add_words(w, hf_page_comparing_md);
        add_code(w, hf_page_comparing_py);
        hf_text_add(&w->text, "check_comparison(COMPARISON)\n");
        hf_notebook_end_code(w, false);
    }
    add_words(w, hf_page_outside_md);
    add_code(w, hf_page_outside_py);
    hf_notebook_repeat(w);
}

static void add_metadata(hf_notebook_writer *w) {
    const hf_study *study = w->study;
    hf_json_writer *json = &w->cells.json;
    hf_json_open_object(json, "metadata");
    hf_json_open_object(json, "holdfast");
    hf_json_add_text(json, "input_sha256", study->campaign->sha256);
    hf_json_add_count(json, "seed", (size_t)study->assessment->options.seed);
    hf_json_add_text(json, "version", HF_VERSION);
    hf_json_close(json, false);
    hf_json_open_object(json, "kernelspec");
    hf_json_add_text(json, "display_name", "Python 3");
    hf_json_add_text(json, "language", "python");
    hf_json_add_text(json, "name", "python3");
    hf_json_close(json, false);
    hf_json_open_object(json, "language_info");
    hf_json_add_text(json, "file_extension", ".py");
    hf_json_add_text(json, "mimetype", "text/x-python");
    hf_json_add_text(json, "name", "python");
    hf_json_close(json, false);
    hf_json_close(json, false);
}

hf_status hf_notebook_write(const hf_study *study, const hf_report_style *style, hf_text *out,
                            hf_error *error) {
    hf_notebook_writer writer = {.study = study, .style = style, .error = error, .status = HF_OK};
    writer.arena = hf_arena_create();
    if (!writer.arena) return hf_error_set(error, HF_MEMORY, "%s", hf_status_text(HF_MEMORY));
    hf_json_writer_start(&writer.cells.json, out);
    hf_json_open_object(&writer.cells.json, NULL);
    hf_json_open_array(&writer.cells.json, "cells");
    add_cells(&writer);
    hf_json_close(&writer.cells.json, true);
    add_metadata(&writer);
    hf_json_add_count(&writer.cells.json, "nbformat", 4);
    hf_json_add_count(&writer.cells.json, "nbformat_minor", 5);
    hf_json_close(&writer.cells.json, false);
    hf_arena_free(writer.arena);
    hf_text_free(&writer.text);
    return writer.status;
}
