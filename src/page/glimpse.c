/* glimpse.c - see glimpse.h. A plan that is found becomes sheets as at the end: the layout room names its pieces and orders its cuts, and its checker
 * replays them. */
#include "glimpse.h"

#include <inttypes.h>
#include <stdlib.h>

#include <drawerwright/files.h>
#include <drawerwright/memory.h>

#include "drawings.h"

/* One material. */
struct glimpse {
    bool known;              /* has a plan */
    int64_t best, bound, sheets;
    int64_t serial;          /* of what is drawn; 0: nothing */
    struct dwi_drawn drawn;
};

struct dwi_glimpses {
    const struct dw_parts *const *jobs;
    const struct dw_layout_problem *problems;
    struct glimpse *at;      /* one a problem */
    size_t count;
    int64_t last_serial;
    bool bound_holds;
};

/* Each sheet costs the same however many are bought, and nobody is paid for bringing them. */
static bool has_first_prices_only(const struct dw_shop *shop)
{
    bool only = true;
    for (size_t s = 0; s < shop->supplier_count; s++)
        only = only && shop->suppliers[s].delivery == 0;
    for (size_t m = 0; m < shop->material_count; m++)
        for (size_t s = 0; s < shop->materials[m].sheet_count; s++)
            only = only && shop->materials[m].sheets[s].break_count == 0;
    return only;
}

static void take_shown(struct dwi_glimpses *glimpses, const struct dw_layouts *shown)
{
    for (size_t m = 0; m < glimpses->count && shown->material_count == glimpses->count; m++) {
        const struct dw_material_layout *layout = &shown->materials[m];
        glimpses->at[m] = (struct glimpse){.known = true, .best = layout->cost, .bound = layout->lower_bound, .sheets = (int64_t)layout->sheet_count};
    }
}

struct dwi_glimpses *dwi_glimpses_new(const struct dw_parts *const *jobs, const struct dw_layout_options *options, const struct dw_purchase *shown,
                                      struct dw_arena *arena)
{
    struct dwi_glimpses *glimpses = dw_arena_alloc(arena, 1, sizeof *glimpses);
    struct dw_faults *unheard = dw_faults_new(); /* the purchase says the same again */
    if (unheard == NULL)
        return NULL;
    const enum dw_status status = dw_layout_problems(jobs, 1, options, arena, unheard, &glimpses->problems, &glimpses->count);
    dw_faults_free(unheard);
    if (status != DW_DONE)
        return NULL;
    glimpses->jobs = jobs;
    glimpses->at = dw_arena_alloc(arena, glimpses->count, sizeof *glimpses->at);
    glimpses->bound_holds = has_first_prices_only(&jobs[0]->sizing->job->shop);
    if (shown != NULL)
        take_shown(glimpses, shown->layouts);
    return glimpses;
}

void dwi_glimpses_free(struct dwi_glimpses *glimpses)
{
    for (size_t m = 0; glimpses != NULL && m < glimpses->count; m++)
        dw_arena_free(glimpses->at[m].drawn.arena);
}

/* ---- drawing ---- */

struct drawing {
    const struct dwi_glimpses *glimpses;
    const struct dw_standing *standing;
    struct dwi_drawn *drawn;
    struct dw_faults *faults;
};

static void draw_body(void *context)
{
    const struct drawing *drawing = context;
    const struct dwi_glimpses *glimpses = drawing->glimpses;
    struct dw_arena *arena = drawing->drawn->arena;
    struct dw_material_layout layout;
    if (dw_layout_make(glimpses->jobs, &glimpses->problems[drawing->standing->material], drawing->standing->found, arena, drawing->faults, &layout) != DW_DONE)
        return;
    const struct dw_layouts layouts = {.jobs = glimpses->jobs, .job_count = 1, .materials = &layout, .material_count = 1};
    const struct dw_purchase purchase = {.layouts = &layouts};
    struct dw_text out = dw_text_in(arena);
    dwi_drawings_of(&purchase, drawing->faults, &out);
    drawing->drawn->drawings = out.bytes;
    drawing->drawn->sheets = (int64_t)layout.sheet_count;
}

struct dwi_drawn dwi_glimpses_draw(const struct dwi_glimpses *glimpses, const struct dw_standing *standing)
{
    struct dwi_drawn drawn = {.arena = NULL};
    if (standing->found == NULL || standing->material >= glimpses->count)
        return drawn;
    const struct glimpse *known = &glimpses->at[standing->material];
    if (known->known && standing->best >= known->best)
        return drawn;
    struct drawing drawing = {.glimpses = glimpses, .standing = standing, .drawn = &drawn, .faults = dw_faults_new()};
    drawn.arena = dw_arena_new();
    const bool whole = drawn.arena != NULL && drawing.faults != NULL && dw_arena_guard(drawn.arena, draw_body, &drawing);
    dw_faults_free(drawing.faults);
    if (whole && drawn.drawings != NULL)
        return drawn;
    dw_arena_free(drawn.arena);
    return (struct dwi_drawn){.arena = NULL};
}

void dwi_glimpses_put(struct dwi_glimpses *glimpses, const struct dw_standing *standing, struct dwi_drawn drawn)
{
    if (standing->material >= glimpses->count)
        return;
    struct glimpse *glimpse = &glimpses->at[standing->material];
    if (standing->lower_bound > glimpse->bound)
        glimpse->bound = standing->lower_bound;
    if (drawn.arena == NULL)
        return;
    dw_arena_free(glimpse->drawn.arena);
    glimpse->drawn = drawn;
    glimpse->known = true;
    glimpse->best = standing->best;
    glimpse->sheets = drawn.sheets;
    glimpse->serial = ++glimpses->last_serial;
}

/* ---- telling ---- */

static void tell_material(const struct dwi_glimpses *glimpses, size_t m, struct dw_text *out)
{
    const struct glimpse *glimpse = &glimpses->at[m];
    dw_text_add(out, "{\"material\": ");
    dw_json_quote(dw_material_id(glimpses->jobs[0]->sizing->job, glimpses->problems[m].material), out);
    dw_text_addf(out, ", \"serial\": %" PRId64 ", \"sheets\": %" PRId64 ", \"cost\": %" PRId64 ", \"lower_bound\": %" PRId64 ", \"proved\": %s, \"drawings\": ",
                 glimpse->serial, glimpse->sheets, glimpse->best, glimpse->bound, glimpse->bound >= glimpse->best ? "true" : "false");
    dw_text_add(out, glimpse->drawn.drawings);
    dw_text_add_char(out, '}');
}

void dwi_glimpses_tell(const struct dwi_glimpses *glimpses, int64_t seen, struct dw_text *out)
{
    int64_t sheets = 0, best = 0, bound = 0;
    bool all = true;
    for (size_t m = 0; m < glimpses->count; m++) {
        sheets += glimpses->at[m].sheets;
        best += glimpses->at[m].best;
        bound += glimpses->at[m].bound;
        all = all && glimpses->at[m].known;
    }
    if (all)
        dw_text_addf(out, ", \"sheets\": %" PRId64 ", \"best\": %" PRId64 ", \"lower_bound\": %" PRId64 ", \"bound_holds\": %s", sheets, best, bound,
                     glimpses->bound_holds ? "true" : "false");
    const char *lead = "";
    dw_text_add(out, ", \"materials\": [");
    for (size_t m = 0; m < glimpses->count; m++) {
        if (glimpses->at[m].serial <= seen)
            continue;
        dw_text_add(out, lead);
        tell_material(glimpses, m, out);
        lead = ", ";
    }
    dw_text_add_char(out, ']');
}
