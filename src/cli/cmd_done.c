/* cmd_done.c - marks on a plan: what is cut, spoiled, damaged, measured, noted, and the last of them taken back. */
#include "cli.h"

#include <string.h>

#include <drawerwright/memory.h>

/* The step at which a sheet is cut up; 0 when the name is of no sheet. */
static int64_t last_step(const struct dw_work_plan *plan, const char *name)
{
    int64_t last = 0;
    for (size_t i = 0; i < plan->pass_count; i++)
        if (strcmp(plan->panels[plan->passes[i].panel].sheet, name) == 0)
            last = plan->passes[i].step;
    return last;
}

static enum dw_status mark(struct cli_marking *marking, struct dw_mark mark, const char *words)
{
    mark.note = mark.note == NULL ? marking->options->note : mark.note;
    const enum dw_status status = dw_progress_mark(marking->rack, marking->plan, &mark, marking->faults);
    if (status == DW_DONE)
        dw_text_addf(&marking->out, "%s: %s.\n", mark.target, words);
    return status;
}

/* Whole sheets are done to their last step, unless told. */
static enum dw_status mark_done(struct cli_marking *marking, const struct dw_work_plan *plan, const char *name)
{
    const int64_t last = last_step(plan, name);
    const int64_t step = marking->options->step > 0 ? marking->options->step : last;
    if (step == 0)
        return mark(marking, (struct dw_mark){.kind = DW_MARK_CUT, .target = name}, "cut");
    return mark(marking, (struct dw_mark){.kind = DW_MARK_SHEET, .target = name, .step = step},
                dw_arena_format(marking->arena, "done to step %lld%s", (long long)step, step == last ? ", its last" : ""));
}

/* How far the plan is, and what to do when it is at its end. */
static enum dw_status say_how_far(struct cli_marking *marking)
{
    const struct dw_progress *progress = NULL;
    const char *path = marking->options->files[0];
    size_t counts[3] = {0};
    const enum dw_status status = dw_progress_read(marking->rack, marking->plan, marking->arena, marking->faults, &progress);
    if (status != DW_DONE)
        return status;
    for (size_t i = 0; i < progress->plan.piece_count; i++)
        counts[progress->states[i]]++;
    dw_text_addf(&marking->out, "Plan %s: %zu of %zu pieces cut", marking->plan, counts[DW_PIECE_CUT], progress->plan.piece_count);
    if (counts[DW_PIECE_SPOILED] > 0)
        dw_text_addf(&marking->out, ", %zu spoiled. Plan those again: drawerwright replan %s JOB -o DIR\n", counts[DW_PIECE_SPOILED], path);
    else if (counts[DW_PIECE_CUT] == progress->plan.piece_count)
        dw_text_addf(&marking->out, ", all of them. What is left goes into the rack with: drawerwright post %s\n", path);
    else
        dw_text_add(&marking->out, ".\n");
    return DW_DONE;
}

static enum dw_status done(struct cli_marking *marking)
{
    const struct dw_progress *progress = NULL;
    enum dw_status status = dw_progress_read(marking->rack, marking->plan, marking->arena, marking->faults, &progress);
    if (status == DW_DONE && marking->options->file_count == 1)
        dw_text_addf(&marking->out, "Plan %s is entered. Mark pieces and sheets as they are cut: drawerwright done %s NAME...\n", marking->plan,
                     marking->options->files[0]);
    for (size_t i = 1; i < marking->options->file_count && status == DW_DONE; i++)
        status = mark_done(marking, &progress->plan, marking->options->files[i]);
    return status == DW_DONE ? say_how_far(marking) : status;
}

static enum dw_status spoiled(struct cli_marking *marking)
{
    enum dw_status status = DW_DONE;
    for (size_t i = 1; i < marking->options->file_count && status == DW_DONE; i++)
        status = mark(marking, (struct dw_mark){.kind = DW_MARK_SPOILED, .target = marking->options->files[i]}, "spoiled");
    if (status == DW_DONE)
        dw_text_addf(&marking->out, "Plan again what is left: drawerwright replan %s JOB -o DIR\n", marking->options->files[0]);
    return status;
}

static enum dw_status damaged(struct cli_marking *marking)
{
    static const char *const edges[] = {"left", "right", "bottom", "top"};
    const struct cli_options *options = marking->options;
    const enum dw_unit unit = options->units != NULL && strcmp(options->units, "mm") == 0 ? DW_MILLIMETER : DW_IN;
    struct dw_mark damage = {.kind = DW_MARK_DAMAGED, .target = options->files[1], .edge = -1};
    const char *why = NULL;
    for (int i = 0; i < 4; i++)
        if (strcmp(edges[i], options->files[2]) == 0)
            damage.edge = i;
    if (damage.edge < 0)
        dw_error(marking->faults, DW_INPUT, "unknown-word", "EDGE", "\"%s\" is no edge\nleft, right, bottom or top, as the sheet is drawn", options->files[2]);
    if (!dw_length_parse(options->files[3], unit, &damage.depth, &why) || damage.depth <= 0)
        dw_error(marking->faults, DW_INPUT, "bad-length", "DEPTH", "\"%s\" is no depth\n%s", options->files[3], why == NULL ? "more than 0" : why);
    if (marking->faults->errors > 0)
        return DW_INPUT;
    const struct dw_length_style style = {.unit = unit, .decimals = -1};
    return mark(marking, damage, dw_arena_format(marking->arena, "not to be used %s from the %s", dw_length_show_unit(marking->arena, damage.depth, style),
                                                 edges[damage.edge]));
}

static enum dw_status measured(struct cli_marking *marking)
{
    const struct cli_options *options = marking->options;
    const enum dw_unit unit = options->units != NULL && strcmp(options->units, "mm") == 0 ? DW_MILLIMETER : DW_IN;
    const char *why = NULL;
    dw_length thickness = 0;
    if (!dw_length_parse(options->files[options->file_count - 1], unit, &thickness, &why) || thickness <= 0) {
        dw_error(marking->faults, DW_INPUT, "bad-length", "THICKNESS", "\"%s\" is no thickness\n%s", options->files[options->file_count - 1],
                 why == NULL ? "more than 0" : why);
        return DW_INPUT;
    }
    const char *words = dw_arena_format(marking->arena, "measures %s", dw_length_show_unit(marking->arena, thickness, (struct dw_length_style){.unit = unit, .decimals = -1}));
    enum dw_status status = DW_DONE;
    for (size_t i = 1; i + 1 < options->file_count && status == DW_DONE; i++)
        status = mark(marking, (struct dw_mark){.kind = DW_MARK_MEASURED, .target = options->files[i], .depth = thickness}, words);
    if (status == DW_DONE)
        dw_text_addf(&marking->out, "Sizes follow when what is left is planned again: drawerwright replan %s JOB -o DIR\n", marking->options->files[0]);
    return status;
}

static enum dw_status note(struct cli_marking *marking)
{
    const struct dw_mark words = {.kind = DW_MARK_NOTE, .target = marking->options->files[1], .note = marking->options->files[2]};
    return mark(marking, words, "noted");
}

static enum dw_status undo(struct cli_marking *marking)
{
    struct dw_mark undone;
    const struct dw_progress *before = NULL;
    enum dw_status status = dw_progress_read(marking->rack, marking->plan, marking->arena, marking->faults, &before);
    if (status == DW_DONE)
        status = dw_progress_undo(marking->rack, marking->plan, marking->arena, marking->faults, &undone);
    if (status != DW_DONE)
        return status;
    if (undone.kind != DW_MARK_ENTERED)
        dw_text_addf(&marking->out, "Taken back: %s.\n", cli_mark_words(marking, &undone));
    else if (before->plan.follows[0] != '\0')
        dw_text_addf(&marking->out, "Plan %s is taken back; plan %s, which it followed, may be worked from again.\n", marking->plan, before->plan.follows);
    else
        dw_text_addf(&marking->out, "Plan %s is taken back; nothing is marked on it.\n", marking->plan);
    return status;
}

enum dw_status cmd_done(const struct cli_options *options)
{
    return cli_marking_run(options, done);
}

enum dw_status cmd_spoiled(const struct cli_options *options)
{
    return cli_marking_run(options, spoiled);
}

enum dw_status cmd_damaged(const struct cli_options *options)
{
    return cli_marking_run(options, damaged);
}

enum dw_status cmd_measured(const struct cli_options *options)
{
    return cli_marking_run(options, measured);
}

enum dw_status cmd_note(const struct cli_options *options)
{
    return cli_marking_run(options, note);
}

enum dw_status cmd_undo(const struct cli_options *options)
{
    return cli_marking_run(options, undo);
}
