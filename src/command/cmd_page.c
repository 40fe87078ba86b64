#include <string.h>
#include "command/commands.h"
#include "command/common.h"
#include "holdfast/base/file.h"
#include "holdfast/base/memory.h"
#include "holdfast/handover/one_file.h"
#include "platform/process.h"

typedef struct page_options {
    hf_option_value page, site;
    hf_output_values output;
    hf_help_values help;
} page_options;

enum { PAGE_LIMIT = 64 * 1024 * 1024 };

/* Where a page lies beside the program: in the same folder, or installed. */
static const char *const beside[] = {"", "../share/holdfast/"};

/* Appends the path of the page; nothing when there is none. */
static void find_page(hf_text *out) {
    char *program = hf_platform_program_file();
    const char *slash = program ? strrchr(program, '/') : NULL;
    for (size_t i = 0; slash && i < sizeof beside / sizeof beside[0] && out->length == 0; i++) {
        hf_text path = {0};
        hf_text_add_bytes(&path, program, (size_t)(slash - program) + 1);
        hf_text_addf(&path, "%sholdfast.html", beside[i]);
        if (!path.failed && hf_file_exists(path.bytes)) hf_text_add_bytes(out, path.bytes, path.length);
        out->failed |= path.failed;
        hf_text_free(&path);
    }
    hf_memory_free(program);
}

static hf_status read_page(const hf_request *request, hf_text *page, hf_error *error) {
    const page_options *options = request->options;
    hf_text found = {0};
    if (options->page.given)
        hf_text_add(&found, options->page.text);
    else
        find_page(&found);
    hf_status status = HF_OK;
    if (found.failed)
        status = hf_error_set(error, HF_MEMORY, "%s", hf_status_text(HF_MEMORY));
    else if (found.length == 0)
        status = hf_error_set(error, HF_FILE,
                              "holdfast.html lies neither beside the program nor in its share/holdfast; "
                              "--page FILE names it, and cmake --workflow --preset page makes it");
    else
        status = hf_file_read(found.bytes, PAGE_LIMIT, page, error);
    if (status == HF_OK && !hf_one_file_is(page))
        status = hf_error_set(error, HF_BAD_DATA,
                              "%s: found another file, expected the page that cmake --workflow --preset page "
                              "makes, with no campaign inside",
                              found.bytes);
    hf_text_free(&found);
    return status;
}

static hf_status put(const char *folder, const char *name, const hf_text *text, hf_error *error) {
    hf_text path = {0};
    hf_text_addf(&path, "%s/%s", folder, name);
    hf_status status = path.failed || text->failed
                           ? hf_error_set(error, HF_MEMORY, "%s", hf_status_text(HF_MEMORY))
                           : hf_file_replace(path.bytes, text->bytes, text->length, error);
    hf_text_free(&path);
    return status;
}

/* The page last: what it names is there by then. */
static hf_exit write_site(hf_request *request, const hf_text *page) {
    const page_options *options = request->options;
    const char *folder = options->site.text, *name = "";
    hf_status status = HF_OK;
    for (size_t i = 0; status == HF_OK && name; i++) {
        hf_text text = {0};
        name = hf_one_file_beside(i, page, &text);
        if (name) status = put(folder, name, &text, &request->error);
        hf_text_free(&text);
    }
    if (status == HF_OK) status = put(folder, "index.html", page, &request->error);
    request->error.status = status;
    if (status != HF_OK) return hf_request_fail(request);
    hf_request_note(request,
                    "%s: a page for any static https host; a phone that has opened it once needs no "
                    "network any more",
                    folder);
    return HF_EXIT_DONE;
}

static hf_exit run(hf_request *request) {
    const page_options *options = request->options;
    const hf_campaign *campaign = NULL;
    hf_findings findings = {0};
    hf_text page = {0}, out = {0};
    if (options->site.given && options->output.output.given)
        request->error.status =
            hf_error_set(&request->error, HF_USAGE, "found --site and --output, expected one of them");
    if (request->error.status != HF_OK) return hf_request_fail(request);
    if (request->argument_count) {
        hf_exit code = hf_request_campaign(request, request->arguments[0], &campaign, &findings);
        if (code != HF_EXIT_DONE) return code;
    }
    request->error.status = read_page(request, &page, &request->error);
    if (request->error.status == HF_OK) hf_one_file_write(&page, campaign, options->site.given, &out);
    hf_text_free(&page);
    if (request->error.status != HF_OK) return hf_request_fail(request);
    if (!options->site.given) return hf_request_write(request, &out, HF_EXIT_DONE);
    hf_exit code = write_site(request, &out);
    hf_text_free(&out);
    return code;
}

#define AT(member) offsetof(page_options, member)
static const hf_option rows[] = {
    {.name = "page",
     .type = HF_OPTION_PATH,
     .value_name = "FILE",
     .help = "the page as it was built; else holdfast.html beside the program or in its share/holdfast",
     .offset = AT(page)},
    {.name = "site",
     .type = HF_OPTION_PATH,
     .value_name = "FOLDER",
     .help = "write index.html, manifest, icon and service worker into this folder, for a static https host",
     .offset = AT(site)},
    {.name = NULL}};

static const hf_argument arguments[] = {{.name = "FILE",
                                         .is_path = true,
                                         .optional = true,
                                         .help = "campaign file to put inside; none when not given"},
                                        {.name = NULL}};

static const hf_option_group groups[] = {{rows, 0},
                                         {hf_output_rows, offsetof(page_options, output)},
                                         {hf_help_rows, offsetof(page_options, help)},
                                         {NULL, 0}};

static const hf_example examples[] = {
    {"holdfast page -o holdfast.html", "the whole program as one file, to be opened by a double click"},
    {"holdfast page sail.json -o day.html", "with the campaign inside: send it to the laptop at the rig"},
    {"holdfast page --site public", "for phones: a folder to put on any static https host"},
    {NULL, NULL}};

const hf_command hf_command_page = {
    .name = "page",
    .summary = "write the whole program as one HTML file that needs no network",
    .arguments = arguments,
    .description = "Writes Holdfast as one HTML file: plan, bench, answer and report in a browser, by the "
                   "same program, without a network or "
                   "anything to install. With FILE the campaign is inside; what is done in the page stays in "
                   "that browser until it is saved "
                   "there, and comes back as a file.\n\n"
                   "The page is made when Holdfast is built (cmake --workflow --preset page) and installed "
                   "with it. Phones open no HTML file "
                   "as a program of its own: for them --site lays the same page out for a static https host, "
                   "from which a phone installs it.",
    .groups = groups,
    .options_size = sizeof(page_options),
    .examples = examples,
    .exits = HF_EXIT_BIT(HF_EXIT_DONE) | HF_EXIT_BIT(HF_EXIT_USAGE) | HF_EXIT_BIT(HF_EXIT_BAD_DATA) |
             HF_EXIT_BIT(HF_EXIT_FILE),
    .run = run,
};
