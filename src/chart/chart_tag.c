/* A label to print and tie on: what one may hang on the part, since when that is known, and from which file. 90 by 50 mm. */
#include <math.h>
#include <string.h>
#include "base/version_number.h"
#include "chart/chart.h"
#include "holdfast/campaign/used.h"
#include "words/glance.h"

enum { WIDTH = 340, HEIGHT = 189, LEFT = 14, ROOM = WIDTH - 2 * LEFT, LINES_MOST = 2, LINE = 14 };

/* Why no label may say this load; NULL: it may. */
static const char *refusal(const hf_glance *g) {
    if (g->design->answer.verdict != HF_ANSWER_WORKING_LOAD) return "there is no working load to write on it";
    if (g->tone == HF_TONE_BAD) return g->says[0] ? g->says : "not met";
    return NULL;
}

/* Words in at most two lines; what is left is cut with an ellipsis. */
static double lines(hf_chart *chart, double y, hf_label_size size, const char *words) {
    for (size_t line = 0; *words && line < LINES_MOST; line++) {
        size_t length = strlen(words);
        while (line + 1 < LINES_MOST &&
               hf_label_width_as(size, hf_chart_format(chart, "%.*s", (int)length, words)) > ROOM) {
            size_t shorter = length;
            while (shorter && words[shorter - 1] != ' ') shorter--;
            if (!shorter) break;
            length = shorter - 1;
        }
        (void)hf_label_put_as(chart, (hf_point){LEFT, y}, ROOM, size,
                              hf_chart_format(chart, "%.*s", (int)length, words));
        words += length + strspn(words + length, " ");
        y += LINE;
    }
    return y;
}

const char *hf_chart_label(hf_chart *chart, const hf_chart_subject *subject) {
    const hf_glance *g = hf_glance_of(&chart->words, subject->assessment);
    if (!g) {
        chart->out->failed = true;
        return NULL;
    }
    while (g->design != subject->design) g++;
    const char *why = refusal(g), *day = hf_design_last_day(g->design->design);
    if (why) return why;
    chart->width = WIDTH;
    chart->narrow = true;
    size_t used = g->design->break_event.counts.used;
    bool conditional = g->tone == HF_TONE_IF;
    const char *title = hf_chart_format(chart, "%s: at most %s", g->name, g->load);
    const char *basis = hf_chart_format(chart, "%s pulled%s%s", hf_chart_count(chart, used, "part", "parts"),
                                        day ? ", last on " : "", day ? day : "");
    hf_chart_begin(chart, 0, HEIGHT, 1, title,
                   hf_chart_format(chart, "%s: at most %s%s%s%s%s. %s.", g->name, g->load,
                                   g->mass[0] ? ", " : "", g->mass, conditional ? "; " : "",
                                   conditional ? g->but : "", basis));
    hf_mark_rectangle(chart, (hf_place_box){4, 4, WIDTH - 4, HEIGHT - 4}, "axis");
    (void)hf_label_put_as(chart, (hf_point){LEFT, 24}, ROOM, HF_LABEL_NAME, g->name);
    double wide = hf_label_put_as(chart, (hf_point){LEFT, 53}, ROOM, HF_LABEL_LARGE,
                                  hf_chart_format(chart, "at most %s", g->load));
    if (g->mass[0] && wide + 10 + hf_label_width(g->mass) < ROOM)
        (void)hf_label_put(chart, (hf_point){LEFT + wide + 10, 53}, HF_ANCHOR_START, g->mass);
    double y = 74;
    if (conditional) y = lines(chart, y, HF_LABEL_WARNING, hf_chart_format(chart, "! %s", g->but));
    y = lines(chart, y, HF_LABEL_SMALL, basis);
    y = lines(chart, y, HF_LABEL_SMALL,
              "Holds for new parts like those pulled; out of use when worn, bent or damaged.");
    (void)lines(chart, y, HF_LABEL_SMALL,
                "Not for lifting or holding people, climbing, loads over heads. Local codes win.");
    (void)hf_label_put_as(
        chart, (hf_point){LEFT, HEIGHT - 12}, ROOM, HF_LABEL_SMALL,
        hf_chart_format(chart, "holdfast " HF_VERSION " · file %.8s", subject->assessment->campaign->sha256));
    hf_chart_close(chart);
    return NULL;
}
