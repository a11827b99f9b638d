/* bench_told.c - the state of the work on a plan as the page is told it: sheets with their steps, pieces, what lies on the bench, the history. */
#include "at_bench.h"

#include <inttypes.h>
#include <string.h>

#include <drawerwright/files.h>
#include <drawerwright/memory.h>

#include "plans.h"

static const char *show(const struct call *call, dw_length length)
{
    return dw_length_show_as_sold(call->arena, length, (struct dw_length_style){.unit = dwi_call_unit(call), .decimals = -1});
}

static void add_size(struct call *call, dw_length length, dw_length width)
{
    dwi_call_member(call, ", \"size\": ", dw_arena_format(call->arena, "%s x %s", show(call, length), show(call, width)));
}

/* ---- steps of a sheet ------------------------------------------------------------------------------------------- */

/* The passes of one sheet that belong to one step. */
struct step {
    const struct dw_progress *progress;
    const char *sheet;
    int64_t number;
};

static bool is_of_step(const struct step *step, size_t pass)
{
    const struct dw_work_plan *plan = &step->progress->plan;
    return plan->passes[pass].step == step->number && strcmp(plan->panels[plan->passes[pass].panel].sheet, step->sheet) == 0;
}

static bool is_named(const struct dw_work_plan *plan, size_t panel)
{
    return panel != DW_NO_PANEL && plan->panels[panel].name[0] != '\0';
}

/* "rip 3": what comes off keeps one measure of the panel, and this is the other. */
static const char *cut_words(struct call *call, const struct dw_work_plan *plan, const struct dw_work_pass *pass)
{
    const struct dw_work_panel *whole = &plan->panels[pass->panel];
    const struct dw_work_panel *off = &plan->panels[pass->off];
    const bool rip = off->length == whole->length;
    return dw_arena_format(call->arena, "%s %s: ", rip ? "rip" : "crosscut", show(call, rip ? off->width : off->length));
}

/* "rip 4 1/4: A-1.8BF, S1-j; left S1-d". What is left is named where no later pass of the step cuts it. */
static const char *step_words(struct call *call, const struct step *step)
{
    const struct dw_work_plan *plan = &step->progress->plan;
    struct dw_text words = dw_text_in(call->arena);
    struct dw_text left = dw_text_in(call->arena);
    for (size_t i = 0; i < plan->pass_count; i++) {
        const struct dw_work_pass *pass = &plan->passes[i];
        if (!is_of_step(step, i) || !is_named(plan, pass->off))
            continue;
        dw_text_add(&words, words.length == 0 ? cut_words(call, plan, pass) : ", ");
        dw_text_add(&words, plan->panels[pass->off].name);
        bool cut_again = false;
        for (size_t k = i + 1; k < plan->pass_count; k++)
            cut_again = cut_again || (is_of_step(step, k) && plan->passes[k].panel == pass->rest);
        if (is_named(plan, pass->rest) && !cut_again)
            dw_text_addf(&left, "%s%s", left.length == 0 ? "; left " : ", ", plan->panels[pass->rest].name);
    }
    dw_text_add(&words, left.bytes);
    return words.length == 0 ? "trim the edges" : words.bytes;
}

/* Each step of the sheet: {"step", "words", "done": all of it, "begun": some of it}. */
static void add_steps(struct call *call, const struct dw_progress *progress, const char *sheet)
{
    const struct dw_work_plan *plan = &progress->plan;
    struct step step = {.progress = progress, .sheet = sheet};
    const char *lead = "";
    dw_text_add(&call->out, ", \"steps\": [");
    for (size_t i = 0; i < plan->pass_count; i++) {
        if (plan->passes[i].step <= step.number || strcmp(plan->panels[plan->passes[i].panel].sheet, sheet) != 0)
            continue;
        step.number = plan->passes[i].step;
        size_t count = 0;
        size_t made = 0;
        for (size_t k = i; k < plan->pass_count; k++)
            if (is_of_step(&step, k)) {
                count++;
                made += progress->made[k] ? 1 : 0;
            }
        dw_text_addf(&call->out, "%s{\"step\": %" PRId64 ", \"done\": %s, \"begun\": %s", lead, step.number, made == count ? "true" : "false",
                     made > 0 ? "true" : "false");
        dwi_call_member(call, ", \"words\": ", step_words(call, &step));
        dw_text_add_char(&call->out, '}');
        lead = ", ";
    }
    dw_text_add_char(&call->out, ']');
}

/* ---- sheets and pieces ------------------------------------------------------------------------------------------ */

static void add_sheets(struct call *call, const struct dw_progress *progress)
{
    const char *lead = "";
    dw_text_add(&call->out, ", \"sheets\": [");
    for (size_t p = 0; p < progress->plan.panel_count; p++) {
        const struct dw_work_panel *panel = &progress->plan.panels[p];
        if (panel->source[0] == '\0')
            continue;
        dw_text_add(&call->out, lead);
        dwi_call_member(call, "{\"name\": ", panel->sheet);
        dwi_call_member(call, ", \"material\": ", panel->material);
        dwi_call_member(call, ", \"source\": ", panel->source);
        add_size(call, panel->length, panel->width);
        add_steps(call, progress, panel->sheet);
        dw_text_add_char(&call->out, '}');
        lead = ", ";
    }
    dw_text_add_char(&call->out, ']');
}

static const struct dw_marked *find_mark(const struct dw_progress *progress, int64_t number)
{
    for (size_t i = 0; i < progress->history_count; i++)
        if (progress->history[i].number == number)
            return &progress->history[i];
    return NULL;
}

/* A piece, with the mark that brought it to its state; `by` says that one where it is about something else, such as its sheet. */
static void add_piece(struct call *call, const struct dw_progress *progress, size_t p)
{
    static const char *const states[] = {[DW_PIECE_TO_CUT] = "to cut", [DW_PIECE_CUT] = "cut", [DW_PIECE_SPOILED] = "spoiled"};
    const struct dw_work_panel *panel = &progress->plan.panels[p];
    const size_t i = panel->piece;
    const bool barred = progress->lost[p] && progress->states[i] == DW_PIECE_TO_CUT; /* what it was to come from is spoiled */
    const struct dw_work_piece *piece = &progress->plan.pieces[i];
    const struct dw_marked *since = progress->states[i] == DW_PIECE_TO_CUT ? NULL : find_mark(progress, progress->since[i]);
    dwi_call_member(call, "{\"mark\": ", piece->mark);
    dwi_call_member(call, ", \"name\": ", piece->name);
    dwi_call_member(call, ", \"material\": ", piece->material);
    dwi_call_member(call, ", \"sheet\": ", panel->sheet);
    add_size(call, piece->length, piece->width);
    dwi_call_member(call, ", \"state\": ", barred ? "to plan again" : states[progress->states[i]]);
    dw_text_addf(&call->out, ", \"since\": %" PRId64, since == NULL ? (int64_t)0 : since->number);
    dwi_call_member(call, ", \"by\": ", since == NULL || strcmp(since->mark.target, piece->mark) == 0 ? "" : dw_mark_words(&since->mark, dwi_call_unit(call), call->arena));
    dw_text_add_char(&call->out, '}');
}

static void add_pieces(struct call *call, const struct dw_progress *progress)
{
    const char *lead = "";
    dw_text_add(&call->out, ", \"pieces\": [");
    for (size_t p = 0; p < progress->plan.panel_count; p++) {
        if (progress->plan.panels[p].use != DW_PANEL_PIECE)
            continue;
        dw_text_add(&call->out, lead);
        add_piece(call, progress, p);
        lead = ", ";
    }
    dw_text_add_char(&call->out, ']');
}

/* What was cut from the plans before this one; and with each of the whole chain what the last plan says of its size. */
static void add_cut(struct call *call, const struct dw_progress *progress)
{
    const char *lead = "";
    dw_text_add(&call->out, ", \"earlier\": [");
    for (size_t i = 0; i < progress->cut_count; i++) {
        const struct dw_made_piece *made = &progress->cut[i];
        if (strcmp(made->plan, progress->plan.mark) == 0 && made->changed[0] == '\0')
            continue;
        dw_text_add(&call->out, lead);
        dwi_call_member(call, "{\"mark\": ", made->piece.mark);
        dwi_call_member(call, ", \"name\": ", made->piece.name);
        dwi_call_member(call, ", \"plan\": ", made->plan);
        add_size(call, made->piece.length, made->piece.width);
        dwi_call_member(call, ", \"changed\": ", made->changed);
        dw_text_add_char(&call->out, '}');
        lead = ", ";
    }
    dw_text_add_char(&call->out, ']');
}

static void add_left(struct call *call, const struct dw_progress *progress)
{
    dw_text_add(&call->out, ", \"left\": [");
    for (size_t i = 0; i < progress->left_count; i++) {
        const struct dw_left_panel *left = &progress->left[i];
        const size_t length = strlen(progress->plan.mark);
        const bool own = strncmp(left->id, progress->plan.mark, length) == 0 && left->id[length] == '/';
        dw_text_add(&call->out, i == 0 ? "" : ", ");
        dwi_call_member(call, "{\"id\": ", left->id);
        dwi_call_member(call, ", \"name\": ", own ? left->panel.name : "");
        dwi_call_member(call, ", \"sheet\": ", own ? left->panel.sheet : "");
        dwi_call_member(call, ", \"material\": ", left->panel.material);
        add_size(call, left->panel.length, left->panel.width);
        dw_text_add_char(&call->out, '}');
    }
    dw_text_add_char(&call->out, ']');
}

/* ---- the history ------------------------------------------------------------------------------------------------ */

static void add_history(struct call *call, const struct dw_progress *progress)
{
    dw_text_add(&call->out, ", \"history\": [");
    for (size_t i = 0; i < progress->history_count; i++) {
        const struct dw_marked *line = &progress->history[i];
        const enum dw_mark_kind kind = line->mark.kind;
        const bool can = !line->taken_back && kind != DW_MARK_ENTERED && kind != DW_MARK_CHANGED && strcmp(line->plan, progress->plan.mark) == 0 &&
                         progress->replaced_by[0] == '\0';
        dw_text_addf(&call->out, "%s{\"number\": %" PRId64 ", \"taken_back\": %s, \"can\": %s", i == 0 ? "" : ", ", line->number,
                     line->taken_back ? "true" : "false", can ? "true" : "false");
        dwi_call_member(call, ", \"when\": ", line->when);
        dwi_call_member(call, ", \"plan\": ", line->plan);
        dwi_call_member(call, ", \"what\": ", dw_mark_words(&line->mark, dwi_call_unit(call), call->arena));
        dwi_call_member(call, ", \"note\": ", line->mark.note);
        dw_text_add_char(&call->out, '}');
    }
    dw_text_add_char(&call->out, ']');
}

void dwi_bench_tell(struct call *call, const struct dw_progress *progress)
{
    dwi_call_member(call, "{\"mark\": ", progress->plan.mark);
    dwi_call_member(call, ", \"jobs\": ", progress->plan.jobs);
    dwi_call_member(call, ", \"follows\": ", progress->plan.follows);
    dwi_call_member(call, ", \"replaced_by\": ", progress->replaced_by);
    const bool packet = dwi_plans_has(call->ask->folder, progress->plan.mark, "pdf", call->arena);
    const bool file = dwi_plans_has(call->ask->folder, progress->plan.mark, "json", call->arena);
    dw_text_addf(&call->out, ", \"posted\": %s, \"packet\": %s, \"file\": %s, \"last\": %" PRId64, progress->posted ? "true" : "false", packet ? "true" : "false",
                 file ? "true" : "false", progress->last);
    add_sheets(call, progress);
    add_pieces(call, progress);
    add_cut(call, progress);
    add_left(call, progress);
    add_history(call, progress);
    dw_text_add_char(&call->out, '}');
}
