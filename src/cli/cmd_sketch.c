/* cmd_sketch.c - the front elevation and the section of each case, as SVG, PDF or PNG by the ending of -o. */
#include "cli.h"

#include <string.h>

#include <drawerwright/memory.h>

enum { LETTER_LONG = 79200, LETTER_SHORT = 61200, A4_LONG = 84189, A4_SHORT = 59528, PNG_DOTS = 150 };

static bool ends_in(const char *text, const char *ending)
{
    const size_t length = strlen(text);
    const size_t tail = strlen(ending);
    return length > tail && strcmp(text + length - tail, ending) == 0;
}

/* "bench.svg" for the first case, "bench-2.svg" for the second. */
static const char *path_of(struct cli_session *session, size_t index)
{
    const char *out = session->options->out;
    const char *dot = strrchr(out, '.');
    if (index == 0)
        return out;
    return dw_arena_format(session->arena, "%.*s-%zu%s", (int)(dot - out), out, index + 1, dot);
}

static enum dw_status write_one(struct cli_session *session, const struct dw_scenes *scenes, size_t index)
{
    const char *bytes = NULL;
    size_t length = 0;
    const char *path = path_of(session, index);
    const enum dw_status status =
        ends_in(path, ".png") ? dw_scene_png(&scenes->at[index], PNG_DOTS, session->arena, session->faults, &bytes, &length)
                              : dw_scene_svg(&scenes->at[index], session->arena, session->faults, &bytes, &length);
    return status == DW_DONE ? dw_file_write(path, bytes, length, session->faults) : status;
}

static enum dw_status write_pdf(struct cli_session *session, const struct dw_scenes *scenes)
{
    const char *bytes = NULL;
    size_t length = 0;
    const enum dw_status status = dw_scenes_pdf(scenes, session->run.jobs[0]->name, session->arena, session->faults, &bytes, &length);
    return status == DW_DONE ? dw_file_write(session->options->out, bytes, length, session->faults) : status;
}

static enum dw_status write_scenes(struct cli_session *session, const struct dw_scenes *scenes)
{
    if (ends_in(session->options->out, ".pdf"))
        return write_pdf(session, scenes);
    enum dw_status status = DW_DONE;
    for (size_t i = 0; i < scenes->count && status == DW_DONE; i++)
        status = write_one(session, scenes, i);
    return status;
}

static enum dw_status answer(struct cli_session *session, struct dw_text *out)
{
    const struct dw_sizing *sizing = session->run.sizings[0];
    const bool a4 = session->options->paper != NULL && strcmp(session->options->paper, "a4") == 0;
    struct dw_scene *at = dw_arena_alloc(session->arena, sizing->case_count, sizeof *at);
    for (size_t c = 0; c < sizing->case_count; c++) {
        const enum dw_status status = dw_draw_case(sizing, c, a4 ? A4_LONG : LETTER_LONG, a4 ? A4_SHORT : LETTER_SHORT, session->arena,
                                                   session->faults, &at[c]);
        if (status != DW_DONE)
            return status;
    }
    const struct dw_scenes scenes = {.at = at, .count = sizing->case_count};
    const enum dw_status status = write_scenes(session, &scenes);
    if (status == DW_DONE)
        dw_text_addf(out, "%zu %s drawn: %s\n", scenes.count, scenes.count == 1 ? "case" : "cases", session->options->out);
    return status;
}

enum dw_status cmd_sketch(const struct cli_options *options)
{
    const char *out = options->out;
    if (out == NULL || !(ends_in(out, ".svg") || ends_in(out, ".pdf") || ends_in(out, ".png"))) {
        fputs("drawerwright sketch: say where to draw: -o FILE.svg, FILE.pdf or FILE.png\n", stderr);
        fputs("Try: drawerwright sketch --help\n", stderr);
        return DW_INPUT;
    }
    return cli_session_run(options, DW_STAGE_SIZE, answer);
}
