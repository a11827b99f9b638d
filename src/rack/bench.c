/* bench.c - what lies on the bench, from a plan's passes and its marks.
 *
 * Every panel but a sheet is made by one pass, and cut by one at most. That a panel is in hand means that every pass on the way to it was made; so a
 * mark on one piece tells of all that was cut before it, and of what must lie beside it.
 */
#include "chain.h"

#include <string.h>

#include <drawerwright/memory.h>

static void find_passes(const struct dwi_bench *bench)
{
    const struct dw_work_plan *plan = bench->plan;
    for (size_t i = 0; i < plan->panel_count; i++) {
        bench->maker[i] = bench->cutter[i] = DW_NO_PANEL;
        memcpy(bench->trim[i], plan->panels[i].trim, sizeof bench->trim[i]);
    }
    for (size_t i = 0; i < plan->pass_count; i++) {
        const struct dw_work_pass *pass = &plan->passes[i];
        bench->cutter[pass->panel] = i;
        if (pass->off != DW_NO_PANEL)
            bench->maker[pass->off] = i;
        if (pass->rest != DW_NO_PANEL)
            bench->maker[pass->rest] = i;
    }
}

static bool is_made(const struct dwi_bench *bench, size_t panel)
{
    return bench->maker[panel] == DW_NO_PANEL || bench->made[bench->maker[panel]];
}

/* What is left of a strip keeps the strip's name. So a name means what lies there; when nothing does, the next to be made; else the last. */
size_t dwi_bench_find(const struct dwi_bench *bench, const char *name)
{
    size_t found = DW_NO_PANEL;
    for (size_t i = 0; i < bench->plan->panel_count && name[0] != '\0'; i++) {
        if (strcmp(bench->plan->panels[i].name, name) != 0)
            continue;
        if (dwi_bench_has(bench, i))
            return i;
        if (found == DW_NO_PANEL || is_made(bench, found))
            found = i;
    }
    return found;
}

static void make_up_to(const struct dwi_bench *bench, size_t panel)
{
    for (size_t pass = bench->maker[panel]; pass != DW_NO_PANEL; pass = bench->maker[bench->plan->passes[pass].panel])
        bench->made[pass] = true;
}

/* A sheet that is spoiled half-way is not cut on. */
static void make_sheet(const struct dwi_bench *bench, const struct dw_mark *mark)
{
    for (size_t i = 0; i < bench->plan->pass_count; i++) {
        const struct dw_work_pass *pass = &bench->plan->passes[i];
        if (pass->step <= mark->step && strcmp(bench->plan->panels[pass->panel].sheet, mark->target) == 0 && !dwi_bench_is_lost(bench, pass->panel))
            bench->made[i] = true;
    }
}

/* A sheet is of one thickness, and so is all that comes off it. */
static void measure_sheet(const struct dwi_bench *bench, size_t panel, dw_length thickness)
{
    for (size_t i = 0; i < bench->plan->panel_count; i++)
        if (strcmp(bench->plan->panels[i].sheet, bench->plan->panels[panel].sheet) == 0)
            bench->thickness[i] = thickness;
}

void dwi_bench_note(const struct dwi_bench *bench, size_t panel, const char *note)
{
    bench->note[panel] = note;
    for (size_t i = 0; i < bench->plan->panel_count && bench->maker[panel] == DW_NO_PANEL; i++)
        if (strcmp(bench->plan->panels[i].sheet, bench->plan->panels[panel].sheet) == 0)
            bench->note[i] = note;
}

/* Marks about what an earlier plan made say nothing of this bench. */
static void apply(const struct dwi_bench *bench, const struct dw_mark *mark)
{
    const size_t panel = dwi_bench_find(bench, mark->target);
    if (mark->kind == DW_MARK_SHEET)
        make_sheet(bench, mark);
    if (panel == DW_NO_PANEL)
        return;
    if (mark->kind == DW_MARK_CUT || mark->kind == DW_MARK_SPOILED || mark->kind == DW_MARK_DAMAGED)
        make_up_to(bench, panel);
    if (mark->kind == DW_MARK_SPOILED)
        bench->lost[panel] = true;
    if (mark->kind == DW_MARK_DAMAGED)
        bench->trim[panel][mark->edge] = dw_most(bench->trim[panel][mark->edge], mark->depth);
    if (mark->kind == DW_MARK_NOTE)
        dwi_bench_note(bench, panel, mark->note);
    if (mark->kind == DW_MARK_MEASURED)
        measure_sheet(bench, panel, mark->depth);
}

/* With no mark on it yet. */
static struct dwi_bench bare_bench(const struct dwi_link *link, struct dw_arena *arena)
{
    const struct dw_work_plan *plan = &link->plan;
    const struct dwi_bench bench = {.plan = plan,
                                    .maker = dw_arena_alloc(arena, plan->panel_count, sizeof *bench.maker),
                                    .cutter = dw_arena_alloc(arena, plan->panel_count, sizeof *bench.cutter),
                                    .made = dw_arena_alloc(arena, plan->pass_count, sizeof *bench.made),
                                    .lost = dw_arena_alloc(arena, plan->panel_count, sizeof *bench.lost),
                                    .trim = dw_arena_alloc(arena, plan->panel_count, sizeof *bench.trim),
                                    .note = dw_arena_alloc(arena, plan->panel_count, sizeof *bench.note),
                                    .thickness = dw_arena_alloc(arena, plan->panel_count, sizeof *bench.thickness)};
    for (size_t i = 0; i < plan->panel_count; i++) {
        bench.thickness[i] = DW_LENGTH_UNSET;
        bench.note[i] = "";
    }
    find_passes(&bench);
    return bench;
}

struct dwi_bench dwi_bench_of(const struct dwi_link *link, struct dw_arena *arena)
{
    const struct dwi_bench bench = bare_bench(link, arena);
    for (size_t i = 0; i < link->mark_count; i++)
        if (!link->marks[i].taken_back)
            apply(&bench, &link->marks[i].mark);
    return bench;
}

/* Nothing, made, or of no use. */
static int stage_of(const struct dwi_bench *bench, size_t panel)
{
    return bench->lost[panel] ? 2 : is_made(bench, panel) ? 1 : 0;
}

const int64_t *dwi_bench_since(const struct dwi_link *link, struct dw_arena *arena)
{
    const size_t count = link->plan.panel_count;
    const struct dwi_bench bench = bare_bench(link, arena);
    int64_t *since = dw_arena_alloc(arena, count, sizeof *since);
    int *stages = dw_arena_alloc(arena, count, sizeof *stages);
    for (size_t p = 0; p < count; p++)
        stages[p] = stage_of(&bench, p);
    for (size_t i = 0; i < link->mark_count; i++) {
        if (link->marks[i].taken_back)
            continue;
        apply(&bench, &link->marks[i].mark);
        for (size_t p = 0; p < count; p++) {
            const int stage = stage_of(&bench, p);
            since[p] = stage == stages[p] ? since[p] : link->marks[i].number;
            stages[p] = stage;
        }
    }
    return since;
}

/* A name means what lies there, so a mark taken out may give later ones another meaning. */
bool dwi_bench_can_do_without(const struct dwi_link *link, size_t at, struct dw_arena *arena)
{
    const struct dwi_bench with = bare_bench(link, arena);
    const struct dwi_bench without = bare_bench(link, arena);
    for (size_t i = 0; i < link->mark_count; i++) {
        const struct dw_mark *mark = &link->marks[i].mark;
        if (link->marks[i].taken_back)
            continue;
        if (i > at && dwi_bench_find(&with, mark->target) != dwi_bench_find(&without, mark->target))
            return false;
        apply(&with, mark);
        if (i != at)
            apply(&without, mark);
    }
    return true;
}

bool dwi_bench_is_cut_up(const struct dwi_bench *bench, size_t panel)
{
    return bench->cutter[panel] != DW_NO_PANEL && bench->made[bench->cutter[panel]];
}

bool dwi_bench_is_lost(const struct dwi_bench *bench, size_t panel)
{
    for (;;) {
        if (bench->lost[panel])
            return true;
        if (bench->maker[panel] == DW_NO_PANEL)
            return false;
        panel = bench->plan->passes[bench->maker[panel]].panel;
    }
}

bool dwi_bench_has(const struct dwi_bench *bench, size_t panel)
{
    return is_made(bench, panel) && !dwi_bench_is_cut_up(bench, panel) && !bench->lost[panel];
}
