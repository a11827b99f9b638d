/* entering.c - a plan as the ledger of progress takes it: its pieces, its panels with what of them may not be used, its passes.
 *
 * The plan's file tells sizes of panels and which pass makes them; where each lies on its sheet follows from that, and from it what of it is
 * still untrimmed edge; a rough cut leaves an edge that must come off too. A panel is worth its share, by area, of what its sheet was worth.
 */
#include "rest.h"

#include <string.h>

#include <drawerwright/memory.h>

struct entering {
    const struct dw_plan *plan;
    struct dw_arena *arena;
    struct dw_faults *faults;
    struct dw_work_plan *work;
    struct dw_work_piece *pieces;
    struct dw_work_panel *panels;
    struct dw_work_pass *passes;
};

/* Where a panel lies on its sheet, and what is over at its rough edges: x low, x high, y low, y high. */
struct corner {
    dw_length x, y;
    dw_length over[4];
};

static void add_pieces(struct entering *entering)
{
    for (size_t p = 0; p < entering->plan->part_count; p++) {
        const struct dw_plan_part *part = &entering->plan->parts[p];
        for (size_t i = 0; i < part->count; i++)
            entering->pieces[entering->work->piece_count++] =
                (struct dw_work_piece){.mark = part->pieces[i], .name = part->name, .material = part->material, .thickness = part->thickness,
                                       .length = part->length, .width = part->width};
    }
}

static size_t find_piece(const struct entering *entering, const char *mark)
{
    for (size_t i = 0; i < entering->work->piece_count; i++)
        if (strcmp(entering->pieces[i].mark, mark) == 0)
            return i;
    return DW_NO_INDEX;
}

/* The corners of all panels of a material, pass by pass: what comes off lies at the low side unless told, what is left at the other. */
static const struct corner *find_corners(const struct entering *entering, const struct dw_plan_material *material)
{
    struct corner *at = dw_arena_alloc(entering->arena, material->panel_count, sizeof *at);
    for (size_t i = 0; i < material->pass_count; i++) {
        const struct dw_plan_pass *pass = &material->passes[i];
        const size_t high = pass->high ? pass->off : pass->rest;
        const size_t low = pass->high ? pass->rest : pass->off;
        const struct dw_plan_panel *whole = &material->panels[pass->panel];
        const size_t side = pass->cut == DW_CROSSCUT ? 0 : 2;
        if (low != DW_NO_INDEX) {
            at[low] = at[pass->panel];
            at[low].over[side + 1] = pass->over;
        }
        if (high == DW_NO_INDEX)
            continue;
        at[high] = at[pass->panel];
        at[high].over[side] = pass->over;
        if (pass->cut == DW_CROSSCUT)
            at[high].x += whole->length - material->panels[high].length;
        else
            at[high].y += whole->width - material->panels[high].width;
    }
    return at;
}

static struct dw_work_panel make_panel(const struct entering *entering, const struct dw_plan_material *material, size_t p, struct corner at)
{
    static const enum dw_panel_use uses[] = {[DW_NODE_CUT] = DW_PANEL_TO_CUT, [DW_NODE_PART] = DW_PANEL_PIECE, [DW_NODE_KEEP] = DW_PANEL_KEEP,
                                             [DW_NODE_WASTE] = DW_PANEL_WASTE};
    const struct dw_plan_panel *panel = &material->panels[p];
    const struct dw_plan_sheet *sheet = &material->sheets[panel->sheet];
    const struct dw_plan_source *source = &material->sources[sheet->source];
    const struct dw_plan_node *root = &sheet->root;
    const bool whole = p < material->sheet_count;
    const enum dw_panel_use use = uses[panel->use];
    struct dw_work_panel made = {
        .name = whole && use != DW_PANEL_PIECE ? sheet->name : panel->name, .sheet = sheet->name, .material = material->material, .source = whole ? source->sheet : "",
        .use = whole && use != DW_PANEL_PIECE ? DW_PANEL_TO_CUT : use,
        .piece = use == DW_PANEL_PIECE ? find_piece(entering, panel->name) : DW_NO_INDEX,
        .length = panel->length, .width = panel->width, .grain_across = source->grain_across,
        .trim = {dw_most(0, root->x - at.x), dw_most(0, at.x + panel->length - root->x - root->length), dw_most(0, root->y - at.y),
                 dw_most(0, at.y + panel->width - root->y - root->width)},
        .value = dw_money_scale(source->value, panel->length * panel->width, source->length * source->width)};
    for (int side = 0; side < 4; side++)
        made.trim[side] = dw_most(made.trim[side], at.over[side]);
    return made;
}

static size_t behind(size_t first, size_t number)
{
    return number == DW_NO_INDEX ? DW_NO_PANEL : first + number;
}

static void add_material(struct entering *entering, const struct dw_plan_material *material)
{
    struct dw_work_plan *work = entering->work;
    const struct corner *corners = find_corners(entering, material);
    const size_t first = work->panel_count;
    if (material->sheet_count > 0 && material->panel_count == 0)
        dw_error(entering->faults, DW_IMPOSSIBLE, "no-ladder", entering->plan->plan_id,
                 "the plan's file does not tell its passes, so that nothing can be marked on it\nplan again with this program");
    for (size_t p = 0; p < material->panel_count; p++) {
        const struct dw_work_panel panel = make_panel(entering, material, p, corners[p]);
        entering->panels[work->panel_count++] = panel;
        if (panel.use == DW_PANEL_PIECE && panel.piece == DW_NO_INDEX)
            dw_error(entering->faults, DW_INPUT, "unknown-piece", panel.name, "a panel is called so, and no part has such a piece\nthe file as it was written");
    }
    for (size_t i = 0; i < material->pass_count; i++) {
        const struct dw_plan_pass *pass = &material->passes[i];
        entering->passes[work->pass_count++] = (struct dw_work_pass){
            .step = pass->step, .panel = first + pass->panel, .off = behind(first, pass->off), .rest = behind(first, pass->rest)};
    }
}

/* What was warned about when the plan was made: src/run/rest.c. */
static void add_changes(struct entering *entering)
{
    const struct dw_plan *plan = entering->plan;
    struct dw_work_change *changes = dw_arena_alloc(entering->arena, plan->warning_count, sizeof *changes);
    for (size_t i = 0; i < plan->warning_count; i++)
        if (strcmp(plan->warnings[i].code, DWI_CUT_DIFFERS) == 0)
            changes[entering->work->change_count++] = (struct dw_work_change){.mark = plan->warnings[i].address, .words = plan->warnings[i].wrong};
    entering->work->changes = changes;
}

static void body(void *context)
{
    struct entering *entering = context;
    const struct dw_plan *plan = entering->plan;
    size_t pieces = 0;
    size_t panels = 0;
    size_t passes = 0;
    for (size_t p = 0; p < plan->part_count; p++)
        pieces += plan->parts[p].count;
    for (size_t m = 0; m < plan->material_count; m++) {
        panels += plan->materials[m].panel_count;
        passes += plan->materials[m].pass_count;
    }
    entering->pieces = dw_arena_alloc(entering->arena, pieces, sizeof *entering->pieces);
    entering->panels = dw_arena_alloc(entering->arena, panels, sizeof *entering->panels);
    entering->passes = dw_arena_alloc(entering->arena, passes, sizeof *entering->passes);
    add_pieces(entering);
    for (size_t m = 0; m < plan->material_count; m++)
        add_material(entering, &plan->materials[m]);
    add_changes(entering);
    entering->work->jobs = dwi_plan_jobs(plan, entering->arena);
}

enum dw_status dw_run_work(const struct dw_plan *plan, struct dw_arena *arena, struct dw_faults *faults, struct dw_work_plan *work)
{
    const size_t errors = faults->errors;
    struct entering entering = {.plan = plan, .arena = arena, .faults = faults, .work = work};
    *work = (struct dw_work_plan){.mark = plan->plan_id, .jobs = "", .follows = plan->follows, .seen = plan->seen, .goods = plan->goods,
                                  .goods_count = plan->goods_count};
    if (!dw_arena_guard(arena, body, &entering)) {
        dw_error(faults, DW_SURROUNDINGS, "memory", "", "memory ran out");
        return DW_SURROUNDINGS;
    }
    work->pieces = entering.pieces;
    work->panels = entering.panels;
    work->passes = entering.passes;
    return faults->errors == errors ? DW_DONE : faults->status;
}
