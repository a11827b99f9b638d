/* likeness.c - plans of no more than their pieces and sheets, for comparing: of the parts of a job that is not planned, of what the ledger knows. */
#include "rest.h"

#include <string.h>

#include <drawerwright/memory.h>

struct likeness {
    struct dw_arena *arena;
    struct dw_plan plan;
    struct dw_plan_part *parts;
    struct dw_plan_material *materials;
    size_t material_capacity;
};

static struct dw_plan_material *material_of(struct likeness *likeness, const char *material)
{
    for (size_t m = 0; m < likeness->plan.material_count; m++)
        if (strcmp(likeness->materials[m].material, material) == 0)
            return &likeness->materials[m];
    likeness->materials =
        dw_arena_grow(likeness->arena, likeness->materials, likeness->plan.material_count, &likeness->material_capacity, sizeof *likeness->materials);
    likeness->materials[likeness->plan.material_count] = (struct dw_plan_material){.material = material};
    return &likeness->materials[likeness->plan.material_count++];
}

static struct dw_plan *seal(const struct likeness *likeness)
{
    struct dw_plan *plan = dw_arena_copy(likeness->arena, &likeness->plan, 1, sizeof *plan);
    plan->parts = likeness->parts;
    plan->materials = likeness->materials;
    return plan;
}

/* ---- parts of a job ------------------------------------------------------------------------------------------- */

static const struct dw_plan *likeness_of_parts(const struct dw_parts *parts, struct dw_arena *arena)
{
    struct likeness likeness = {.arena = arena, .plan = {.plan_id = "", .program = "", .follows = "", .part_count = parts->count},
                                .parts = dw_arena_alloc(arena, parts->count, sizeof *likeness.parts)};
    for (size_t p = 0; p < parts->count; p++) {
        const struct dw_part *part = &parts->at[p];
        const char *material = parts->sizing->job->shop.materials[part->material].id;
        const char **marks = dw_arena_alloc(arena, part->count, sizeof *marks);
        for (size_t i = 0; i < part->count; i++)
            marks[i] = part->pieces[i].mark;
        likeness.parts[p] = (struct dw_plan_part){.id = part->id, .name = part->name, .material = material, .thickness = part->thickness,
                                                  .length = part->length.value, .width = part->width.value, .pieces = marks, .count = part->count};
        (void)material_of(&likeness, material);
    }
    return seal(&likeness);
}

struct sizes {
    const struct dw_parts *before, *after;
    const struct dw_run_rest *rest;
    struct dw_arena *arena;
    struct dw_faults *faults;
    const struct dw_plan *plans[2];
};

static void sizes_body(void *context)
{
    struct sizes *sizes = context;
    dwi_rest_warn(&sizes->after, 1, sizes->rest, sizes->arena, sizes->faults);
    dwi_rest_take(&sizes->before, 1, sizes->rest, sizes->arena);
    dwi_rest_take(&sizes->after, 1, sizes->rest, sizes->arena);
    sizes->plans[0] = likeness_of_parts(sizes->before, sizes->arena);
    sizes->plans[1] = likeness_of_parts(sizes->after, sizes->arena);
}

enum dw_status dw_run_size_changes(const struct dw_parts *before, const struct dw_parts *after, const struct dw_run_rest *rest, struct dw_arena *arena,
                                   struct dw_faults *faults, struct dw_run_changes *changes)
{
    struct sizes sizes = {.before = before, .after = after, .rest = rest, .arena = arena, .faults = faults};
    if (!dw_arena_guard(arena, sizes_body, &sizes)) {
        dw_error(faults, DW_SURROUNDINGS, "memory", "", "memory ran out");
        return DW_SURROUNDINGS;
    }
    return dw_run_changes(sizes.plans[0], sizes.plans[1], NULL, after->sizing->job->unit, 0, arena, faults, changes);
}

/* ---- what the ledger knows -------------------------------------------------------------------------------------- */

/* A sheet that is no offer of the shop: "R12" of the rack, "K4T9XY/S1-b" left of an earlier plan. */
static bool is_owned(const char *source)
{
    return strchr(source, '/') != NULL || (source[0] == 'R' && source[1] != '\0' && strspn(source + 1, "0123456789") == strlen(source + 1));
}

static void add_sheet(struct likeness *likeness, const struct dw_work_panel *panel)
{
    struct dw_plan_material *material = material_of(likeness, panel->material);
    struct dw_plan_source *sources = dw_arena_alloc(likeness->arena, material->source_count + 1, sizeof *sources);
    struct dw_plan_sheet *sheets = dw_arena_alloc(likeness->arena, material->sheet_count + 1, sizeof *sheets);
    for (size_t i = 0; i < material->sheet_count; i++) {
        sources[i] = material->sources[i];
        sheets[i] = material->sheets[i];
    }
    sources[material->source_count] = (struct dw_plan_source){.sheet = panel->source, .owned = is_owned(panel->source), .rack_id = ""};
    sheets[material->sheet_count] = (struct dw_plan_sheet){.source = material->source_count, .name = panel->name};
    material->sources = sources;
    material->sheets = sheets;
    material->source_count++;
    material->sheet_count++;
}

struct knowing {
    const struct dw_work_plan *work;
    struct dw_arena *arena;
    const struct dw_plan *plan;
};

static void know_body(void *context)
{
    struct knowing *knowing = context;
    const struct dw_work_plan *work = knowing->work;
    struct likeness likeness = {.arena = knowing->arena, .plan = {.plan_id = work->mark, .program = "", .follows = work->follows, .part_count = work->piece_count,
                                         .goods = work->goods, .goods_count = work->goods_count},
                                .parts = dw_arena_alloc(knowing->arena, work->piece_count, sizeof *likeness.parts)};
    for (size_t i = 0; i < work->piece_count; i++) {
        const struct dw_work_piece *piece = &work->pieces[i];
        likeness.parts[i] = (struct dw_plan_part){.id = "", .name = piece->name, .material = piece->material, .thickness = piece->thickness,
                                                  .length = piece->length, .width = piece->width, .pieces = &piece->mark, .count = 1};
    }
    for (size_t i = 0; i < work->panel_count; i++)
        if (work->panels[i].source[0] != '\0')
            add_sheet(&likeness, &work->panels[i]);
    knowing->plan = seal(&likeness);
}

enum dw_status dw_run_plan_entered(const struct dw_work_plan *work, struct dw_arena *arena, struct dw_faults *faults, const struct dw_plan **plan)
{
    struct knowing knowing = {.work = work, .arena = arena};
    *plan = NULL;
    if (!dw_arena_guard(arena, know_body, &knowing)) {
        dw_error(faults, DW_SURROUNDINGS, "memory", "", "memory ran out");
        return DW_SURROUNDINGS;
    }
    *plan = knowing.plan;
    return DW_DONE;
}
