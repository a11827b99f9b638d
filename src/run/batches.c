/* batches.c - parts given to the batches of their material.
 *
 * A batch is made a material of its own: its id and name are the material's and the batch's, its thickness is as measured, its sheets are those of the
 * batch. From there on nothing else in the program knows of batches: sizes, parts, layouts, plan and labels follow the material.
 *
 * Which parts a batch gets. A unit is what must be of one thickness: the sides of a box, its front, its back, its bottom, and where it is asked all of a
 * box that is of one material; a front, or fronts that are matched; the members of a case; a part listed by hand. Units go in the order of the job to the
 * first batch, as many as its sheets hold, the next ones to the second, and what no batch holds to the material's other sheets. How many a batch holds is
 * found by bisection, each question put to the cutting room. That rule is simple to follow at the bench; it is not the cheapest of all.
 *
 * What an earlier plan gave to a batch stays with it while its sheets hold it, what is cut first of all.
 */
#include "batches.h"

#include <stdlib.h>
#include <string.h>

#include <drawerwright/memory.h>

enum role { SIDES, BOX_FRONT, BACK, BOTTOM, FRONT, MEMBERS, CASE_BACK, FRAME, LISTED, ROLES };

enum { FIT_WORK = 200000 }; /* units of work for one question */

#define OWN_SHEETS SIZE_MAX /* no batch */

/* A material that has batches, each as a material. */
struct pile {
    const char *base;
    const struct dw_material *batches;
    size_t batch_count;
};

struct unit {
    const struct pile *pile;
    size_t job, one;           /* `one`: its case, or the listed part */
    size_t bank, drawer;       /* DW_NO_INDEX: of the whole case */
    unsigned roles;            /* one bit a role */
    bool matched;              /* all matched fronts of the bank, or of the group */
    const char *group;         /* of matched fronts; NULL */
    size_t batch;              /* of the pile, or OWN_SHEETS */
    size_t told;               /* likewise: where an earlier plan had it */
    bool decided, cut;
};

struct batching {
    const struct dw_job *const *asked;
    const struct dw_job **complete; /* with no batch told */
    const struct dw_parts **parts;  /* likewise, all of them */
    size_t job_count;
    const struct dw_run_rest *rest;
    const struct dw_layout_options *options;
    struct dw_arena *arena;
    struct dw_faults *heard;        /* of what was tried */
    struct pile *piles;
    size_t pile_count, pile_capacity;
    struct unit *units;
    size_t unit_count, unit_capacity;
};

/* ---- piles ------------------------------------------------------------------------------------------------ */

static struct dw_material as_material(const struct dw_material *base, const char *batch, dw_length thickness, struct dw_arena *arena)
{
    struct dw_material material = *base;
    material.id = dw_arena_format(arena, "%s%s%s", base->id, DW_BATCH_BETWEEN, batch);
    material.name = dw_arena_format(arena, "%s%s%s", base->name, DW_BATCH_BETWEEN, batch);
    material.thickness = thickness;
    material.sheets = NULL;
    material.batches = NULL;
    material.sheet_count = material.batch_count = 0;
    return material;
}

static struct dw_material batch_of(const struct dw_material *base, const struct dw_batch *batch, struct dw_arena *arena)
{
    struct dw_material material = as_material(base, batch->id, batch->thickness, arena);
    for (size_t s = 0; s < base->sheet_count; s++) {
        if (strcmp(base->sheets[s].id, batch->sheet) != 0)
            continue;
        struct dw_sheet_offer *offer = dw_arena_copy(arena, &base->sheets[s], 1, sizeof *offer);
        offer->count = batch->count;
        offer->breaks = NULL;
        offer->break_count = 0;
        material.sheets = offer;
        material.sheet_count = 1;
    }
    return material;
}

/* "1/2 birch, batch measured 31/64 in": the batch of what lies on the bench and was measured there (rest.c). False for any other. */
static bool is_measured(const char *id, const char *base, const char **batch, dw_length *thickness)
{
    static const char lead[] = DW_BATCH_BETWEEN DWI_MEASURED;
    const size_t length = strlen(base);
    if (strncmp(id, base, length) != 0 || strncmp(id + length, lead, sizeof lead - 1) != 0)
        return false;
    *batch = id + length + strlen(DW_BATCH_BETWEEN);
    return dw_length_parse(id + length + sizeof lead - 1, DW_IN, thickness, NULL);
}

/* To people its thickness is its name: "1/2 birch plywood, 31/64 in". */
static struct dw_material measured_batch(const struct dw_material *base, const char *batch, dw_length thickness, struct dw_arena *arena)
{
    struct dw_material material = as_material(base, batch, thickness, arena);
    material.name = dw_arena_format(arena, "%s, %s", base->name, batch + sizeof DWI_MEASURED - 1);
    return material;
}

static bool has_id(const struct dw_material *materials, size_t count, const char *id)
{
    for (size_t i = 0; i < count; i++)
        if (strcmp(materials[i].id, id) == 0)
            return true;
    return false;
}

static void add_pile(struct batching *batching, const struct dw_material *base)
{
    const struct dw_layout_options *options = batching->options;
    struct dw_material *batches = dw_arena_alloc(batching->arena, base->batch_count + options->owned_count, sizeof *batches);
    size_t count = 0;
    for (size_t i = 0; i < options->owned_count; i++) {
        const char *batch = NULL;
        dw_length thickness = 0;
        if (is_measured(options->owned[i].material, base->id, &batch, &thickness) && !has_id(batches, count, options->owned[i].material))
            batches[count++] = measured_batch(base, batch, thickness, batching->arena);
    }
    for (size_t i = 0; i < base->batch_count; i++)
        batches[count++] = batch_of(base, &base->batches[i], batching->arena);
    if (count == 0)
        return;
    batching->piles = dw_arena_grow(batching->arena, batching->piles, batching->pile_count, &batching->pile_capacity, sizeof *batching->piles);
    batching->piles[batching->pile_count++] = (struct pile){.base = base->id, .batches = batches, .batch_count = count};
}

static const struct pile *pile_of(const struct batching *batching, size_t job, size_t material)
{
    const char *id = dw_material_id(batching->complete[job], material);
    for (size_t p = 0; p < batching->pile_count; p++)
        if (strcmp(batching->piles[p].base, id) == 0)
            return &batching->piles[p];
    return NULL;
}

/* ---- units ------------------------------------------------------------------------------------------------ */

static struct unit *add_unit(struct batching *batching, struct unit unit)
{
    batching->units = dw_arena_grow(batching->arena, batching->units, batching->unit_count, &batching->unit_capacity, sizeof *batching->units);
    unit.batch = unit.told = OWN_SHEETS;
    batching->units[batching->unit_count] = unit;
    return &batching->units[batching->unit_count++];
}

static bool covers(const struct batching *batching, const struct unit *unit, size_t job, size_t one, size_t bank, size_t drawer, enum role role)
{
    if (unit->job != job || (unit->roles & 1U << role) == 0)
        return false;
    if (!unit->matched)
        return unit->one == one && unit->bank == bank && unit->drawer == drawer;
    const struct dw_front *front = &batching->complete[job]->cases[one].banks[bank].drawers[drawer].front;
    if (front->matched != DW_YES || (front->match_group == NULL) != (unit->group == NULL))
        return false;
    return unit->group == NULL ? unit->one == one && unit->bank == bank : strcmp(unit->group, front->match_group) == 0;
}

static const struct unit *unit_of(const struct batching *batching, size_t job, size_t one, size_t bank, size_t drawer, enum role role)
{
    for (size_t i = 0; i < batching->unit_count; i++)
        if (covers(batching, &batching->units[i], job, one, bank, drawer, role))
            return &batching->units[i];
    return NULL;
}

/* A box's parts, each by itself or together where they are of one material and that is asked. */
static void add_box(struct batching *batching, struct unit unit, const struct dw_drawer *drawer)
{
    const struct dw_box *box = &drawer->box;
    const size_t materials[] = {[SIDES] = box->side_material, [BOX_FRONT] = box->front_material, [BACK] = box->back_material, [BOTTOM] = box->bottom_material};
    const size_t first = batching->unit_count;
    for (unsigned role = SIDES; role <= BOTTOM; role++) {
        unit.pile = pile_of(batching, unit.job, materials[role]);
        if (unit.pile == NULL)
            continue;
        struct unit *same = NULL;
        for (size_t i = first; box->one_batch == DW_YES && i < batching->unit_count; i++)
            if (batching->units[i].pile == unit.pile)
                same = &batching->units[i];
        unit.roles = 1U << role;
        if (same != NULL)
            same->roles |= unit.roles;
        else
            (void)add_unit(batching, unit);
    }
}

static void add_front(struct batching *batching, struct unit unit, const struct dw_drawer *drawer)
{
    const struct dw_front *front = &drawer->front;
    unit.pile = pile_of(batching, unit.job, front->material);
    const bool own = drawer->fill != DW_FILL_OPEN && !(drawer->fill == DW_FILL_DRAWER && front->kind == DW_FRONT_IS_BOX_FRONT);
    if (unit.pile == NULL || !own || unit_of(batching, unit.job, unit.one, unit.bank, unit.drawer, FRONT) != NULL)
        return;
    unit.roles = 1U << FRONT;
    unit.matched = front->matched == DW_YES;
    unit.group = front->match_group;
    (void)add_unit(batching, unit);
}

static void add_case(struct batching *batching, size_t job, size_t c)
{
    const struct dw_case *one = &batching->complete[job]->cases[c];
    const size_t materials[] = {one->case_material, one->back_material, one->frame_material};
    for (unsigned i = 0; i < 3 && one->derive_parts; i++) {
        struct unit unit = {.job = job, .one = c, .bank = DW_NO_INDEX, .drawer = DW_NO_INDEX, .roles = 1U << (MEMBERS + i)};
        unit.pile = pile_of(batching, job, materials[i]);
        if (unit.pile != NULL)
            (void)add_unit(batching, unit);
    }
    for (size_t b = 0; b < one->bank_count; b++)
        for (size_t d = 0; d < one->banks[b].drawer_count; d++) {
            const struct unit unit = {.job = job, .one = c, .bank = b, .drawer = d};
            if (one->banks[b].drawers[d].fill == DW_FILL_DRAWER)
                add_box(batching, unit, &one->banks[b].drawers[d]);
            add_front(batching, unit, &one->banks[b].drawers[d]);
        }
}

static void add_units(struct batching *batching)
{
    for (size_t job = 0; job < batching->job_count; job++) {
        for (size_t c = 0; c < batching->complete[job]->case_count; c++)
            add_case(batching, job, c);
        for (size_t e = 0; e < batching->complete[job]->extra_count; e++) {
            struct unit unit = {.job = job, .one = e, .bank = DW_NO_INDEX, .drawer = DW_NO_INDEX, .roles = 1U << LISTED};
            unit.pile = pile_of(batching, job, batching->complete[job]->extras[e].material);
            if (unit.pile != NULL)
                (void)add_unit(batching, unit);
        }
    }
}

/* ---- what an earlier plan had ----------------------------------------------------------------------------- */

/* The unit that a piece belongs to; NULL. */
static struct unit *unit_with(struct batching *batching, const char *mark)
{
    static const int roles[] = {[DW_PART_FRONT] = FRONT, [DW_PART_SIDE] = SIDES, [DW_PART_BOX_FRONT] = BOX_FRONT, [DW_PART_BACK] = BACK,
                                [DW_PART_BOTTOM] = BOTTOM, [DW_PART_PACKING] = ROLES, [DW_PART_CASE] = MEMBERS, [DW_PART_EXTRA] = LISTED};
    size_t job = 0;
    const struct dw_piece *piece = NULL;
    const struct dw_part *part = dwi_rest_piece(batching->parts, batching->job_count, mark, &job, &piece);
    if (part == NULL)
        return NULL;
    const bool listed = part->kind == DW_PART_EXTRA;
    const char *number = listed ? strrchr(mark, 'X') : NULL; /* "X2.1": the second part listed (src/parts/marks.c) */
    const size_t one = !listed ? piece->case_index : number == NULL ? 0 : strtoul(number + 1, NULL, 10) - 1;
    const struct unit *unit = NULL;
    if (part->kind == DW_PART_CASE) {
        const struct dw_case *source = &batching->complete[job]->cases[one];
        const enum role role = part->material == source->case_material ? MEMBERS : part->material == source->back_material ? CASE_BACK : FRAME;
        unit = unit_of(batching, job, one, DW_NO_INDEX, DW_NO_INDEX, role);
    } else if (roles[part->kind] != ROLES) {
        unit = unit_of(batching, job, one, piece->bank_index, piece->drawer_index, (enum role)roles[part->kind]);
    }
    return unit == NULL ? NULL : &batching->units[unit - batching->units];
}

static void tell(struct batching *batching, const char *mark, const char *material, bool cut)
{
    struct unit *unit = unit_with(batching, mark);
    if (unit == NULL || (unit->cut && !cut))
        return;
    unit->cut = unit->cut || cut;
    for (size_t b = 0; b < unit->pile->batch_count; b++)
        if (strcmp(unit->pile->batches[b].id, material) == 0)
            unit->told = b;
    unit->decided = unit->cut && unit->told == OWN_SHEETS && strcmp(material, unit->pile->base) == 0;
}

static void tell_all(struct batching *batching)
{
    for (size_t i = 0; batching->rest != NULL && i < batching->rest->planned_count; i++)
        tell(batching, batching->rest->planned[i].mark, batching->rest->planned[i].material, false);
    for (size_t i = 0; batching->rest != NULL && i < batching->rest->cut_count; i++) {
        const struct dw_made_piece *made = &batching->rest->cut[i];
        tell(batching, made->piece.mark, dwi_measured_material(made->piece.material, made->measured, batching->arena), true);
    }
}

/* ---- jobs with batches told ------------------------------------------------------------------------------- */

static const struct dw_material *more_materials(const struct batching *batching, const struct dw_job *job, struct dw_arena *arena, size_t *count)
{
    size_t most = job->shop.material_count;
    for (size_t p = 0; p < batching->pile_count; p++)
        most += batching->piles[p].batch_count;
    struct dw_material *materials = dw_arena_alloc(arena, most, sizeof *materials);
    *count = job->shop.material_count;
    for (size_t m = 0; m < *count; m++)
        materials[m] = job->shop.materials[m];
    for (size_t p = 0; p < batching->pile_count; p++)
        for (size_t b = 0; b < batching->piles[p].batch_count && has_id(job->shop.materials, job->shop.material_count, batching->piles[p].base); b++)
            materials[(*count)++] = batching->piles[p].batches[b];
    return materials;
}

/* A place of a material in the job, set to what its unit was given. */
static void give(const struct dw_job *job, const struct unit *unit, size_t *material)
{
    if (unit == NULL || unit->batch == OWN_SHEETS)
        return;
    for (size_t m = 0; m < job->shop.material_count; m++)
        if (strcmp(job->shop.materials[m].id, unit->pile->batches[unit->batch].id) == 0)
            *material = m;
}

static void give_drawer(const struct batching *batching, const struct dw_job *job, size_t j, size_t c, size_t b, size_t d, struct dw_drawer *drawer)
{
    const struct dw_drawer *complete = &batching->complete[j]->cases[c].banks[b].drawers[d];
    size_t *const box[] = {[SIDES] = &drawer->box.side_material, [BOX_FRONT] = &drawer->box.front_material, [BACK] = &drawer->box.back_material,
                           [BOTTOM] = &drawer->box.bottom_material};
    const size_t own[] = {[SIDES] = complete->box.side_material, [BOX_FRONT] = complete->box.front_material, [BACK] = complete->box.back_material,
                          [BOTTOM] = complete->box.bottom_material};
    for (unsigned role = SIDES; role <= BOTTOM; role++) {
        *box[role] = own[role];
        give(job, unit_of(batching, j, c, b, d, (enum role)role), box[role]);
    }
    drawer->front.material = complete->front.material;
    if (complete->fill == DW_FILL_DRAWER && complete->front.kind == DW_FRONT_IS_BOX_FRONT)
        drawer->front.material = drawer->box.front_material;
    else
        give(job, unit_of(batching, j, c, b, d, FRONT), &drawer->front.material);
}

static const struct dw_job *with_batches(const struct batching *batching, size_t j, struct dw_arena *arena)
{
    struct dw_job *job = dw_arena_copy(arena, batching->asked[j], 1, sizeof *job);
    struct dw_case *cases = dw_arena_copy(arena, job->cases, job->case_count, sizeof *cases);
    struct dw_extra *extras = dw_arena_copy(arena, job->extras, job->extra_count, sizeof *extras);
    job->shop.materials = more_materials(batching, job, arena, &job->shop.material_count);
    for (size_t c = 0; c < job->case_count; c++) {
        size_t *const own[] = {&cases[c].case_material, &cases[c].back_material, &cases[c].frame_material};
        for (unsigned i = 0; i < 3; i++)
            give(job, unit_of(batching, j, c, DW_NO_INDEX, DW_NO_INDEX, (enum role)(MEMBERS + i)), own[i]);
        struct dw_bank *banks = dw_arena_copy(arena, cases[c].banks, cases[c].bank_count, sizeof *banks);
        for (size_t b = 0; b < cases[c].bank_count; b++) {
            struct dw_drawer *drawers = dw_arena_copy(arena, banks[b].drawers, banks[b].drawer_count, sizeof *drawers);
            for (size_t d = 0; d < banks[b].drawer_count; d++)
                give_drawer(batching, job, j, c, b, d, &drawers[d]);
            banks[b].drawers = drawers;
        }
        cases[c].banks = banks;
    }
    for (size_t e = 0; e < job->extra_count; e++)
        give(job, unit_of(batching, j, e, DW_NO_INDEX, DW_NO_INDEX, LISTED), &extras[e].material);
    job->cases = cases;
    job->extras = extras;
    return job;
}

/* ---- what a batch holds ----------------------------------------------------------------------------------- */

/* The parts that are to be cut as the units stand; NULL where that cannot be. */
static const struct dw_parts *const *parts_as_given(const struct batching *batching, struct dw_arena *arena)
{
    const struct dw_parts **parts = dw_arena_alloc(arena, batching->job_count, sizeof *parts);
    for (size_t j = 0; j < batching->job_count; j++) {
        const struct dw_job *complete = NULL;
        const struct dw_sizing *sizing = NULL;
        if (dw_job_complete(with_batches(batching, j, arena), arena, batching->heard, &complete) != DW_DONE ||
            dw_size(complete, arena, batching->heard, &sizing) != DW_DONE || dw_parts_make(sizing, arena, batching->heard, &parts[j]) != DW_DONE)
            return NULL;
    }
    dwi_run_number_marks(parts, batching->job_count, arena);
    if (batching->rest != NULL)
        dwi_rest_take(parts, batching->job_count, batching->rest, arena);
    return parts;
}

static bool holds(const struct dw_layout_problem *problem, struct dw_arena *arena)
{
    struct dw_cutter *cutter = dw_cutter_new(&problem->request, arena);
    int64_t *counts = dw_arena_alloc(arena, problem->source_count, sizeof *counts);
    enum dw_cut_outcome outcome = DW_CUT_NONE_FOUND;
    const struct dw_cut_plan *plan = NULL;
    for (size_t s = 0; s < problem->source_count; s++)
        counts[s] = problem->sources[s].count;
    return cutter != NULL && dw_cutter_within(cutter, counts, FIT_WORK, NULL, arena, &outcome, &plan) == DW_DONE && outcome == DW_CUT_PLAN;
}

/* Do the sheets of a batch hold what it was given? */
static bool fits(const struct batching *batching, const char *batch)
{
    struct dw_arena *arena = dw_arena_child(batching->arena);
    const struct dw_parts *const *parts = parts_as_given(batching, arena);
    const struct dw_layout_problem *problems = NULL;
    size_t count = 0;
    bool fit = parts != NULL && dw_layout_problems(parts, batching->job_count, batching->options, arena, batching->heard, &problems, &count) == DW_DONE;
    for (size_t p = 0; fit && p < count; p++)
        if (strcmp(dw_material_id(parts[0]->sizing->job, problems[p].material), batch) == 0)
            fit = holds(&problems[p], arena);
    dw_arena_free(arena);
    return fit;
}

/* Gives the first `count` of the units to a batch, and the others to none. */
static void give_first(struct batching *batching, const size_t *units, size_t unit_count, size_t count, size_t batch)
{
    for (size_t i = 0; i < unit_count; i++)
        batching->units[units[i]].batch = i < count ? batch : OWN_SHEETS;
}

/* How far a unit goes before others: what is cut from the batch, what was planned from it, what was planned from none. */
static int turn_of(const struct unit *unit, size_t batch)
{
    if (unit->told == batch)
        return unit->cut ? 0 : 1;
    return unit->told == OWN_SHEETS ? 2 : -1;
}

static void fill_batch(struct batching *batching, const struct pile *pile, size_t batch)
{
    size_t *units = dw_arena_alloc(batching->arena, batching->unit_count, sizeof *units);
    size_t count = 0;
    for (int turn = 0; turn <= 2; turn++)
        for (size_t i = 0; i < batching->unit_count; i++)
            if (batching->units[i].pile == pile && !batching->units[i].decided && turn_of(&batching->units[i], batch) == turn)
                units[count++] = i;
    size_t held = 0; /* so many it holds ... */
    size_t over = count + 1; /* ... and so many it does not */
    for (size_t ask = count; held + 1 < over; ask = (held + over) / 2) {
        give_first(batching, units, count, ask, batch);
        if (ask == 0 || fits(batching, pile->batches[batch].id))
            held = ask;
        else
            over = ask;
    }
    give_first(batching, units, count, held, batch);
    for (size_t i = 0; i < count; i++) {
        struct unit *unit = &batching->units[units[i]];
        unit->decided = i < held;
        if (i >= held && !unit->cut)
            unit->told = OWN_SHEETS;
    }
}

/* What is cut from a batch that holds no more goes on to the others. */
static void let_go(struct batching *batching, const struct pile *pile, size_t batch)
{
    for (size_t i = 0; i < batching->unit_count; i++) {
        struct unit *unit = &batching->units[i];
        if (unit->pile != pile || unit->decided || unit->told != batch)
            continue;
        unit->told = OWN_SHEETS;
        if (unit->drawer != DW_NO_INDEX)
            dw_warn(batching->heard, DWI_BATCH_MIXED,
                    dw_arena_format(batching->arena, "cases[%zu].banks[%zu].drawers[%zu]", unit->one, unit->bank, unit->drawer),
                    "some of it is cut from %s, whose sheets do not hold the rest\nit is cut from other sheets: look at the joints, or make it anew as a whole",
                    pile->batches[batch].id);
    }
}

/* ---- from first to last ----------------------------------------------------------------------------------- */

static bool prepare(struct batching *batching)
{
    batching->complete = dw_arena_alloc(batching->arena, batching->job_count, sizeof *batching->complete);
    batching->parts = dw_arena_alloc(batching->arena, batching->job_count, sizeof *batching->parts);
    for (size_t j = 0; j < batching->job_count; j++) {
        const struct dw_sizing *sizing = NULL;
        if (dw_job_complete(batching->asked[j], batching->arena, batching->heard, &batching->complete[j]) != DW_DONE ||
            dw_size(batching->complete[j], batching->arena, batching->heard, &sizing) != DW_DONE ||
            dw_parts_make(sizing, batching->arena, batching->heard, &batching->parts[j]) != DW_DONE)
            return false;
    }
    dwi_run_number_marks(batching->parts, batching->job_count, batching->arena);
    const struct dw_shop *shop = &batching->complete[0]->shop;
    for (size_t m = 0; m < shop->material_count; m++)
        add_pile(batching, &shop->materials[m]);
    return batching->pile_count > 0;
}

static bool is_wanted(const struct dw_job *const *asked, size_t job_count, const struct dw_layout_options *options)
{
    for (size_t j = 0; j < job_count; j++)
        for (size_t m = 0; m < asked[j]->shop.material_count; m++)
            if (asked[j]->shop.materials[m].batch_count > 0)
                return true;
    for (size_t i = 0; i < options->owned_count; i++)
        if (strstr(options->owned[i].material, DW_BATCH_BETWEEN DWI_MEASURED) != NULL)
            return true;
    return false;
}

const struct dw_job *const *dwi_batches_give(const struct dw_job *const *asked, size_t job_count, const struct dw_run_rest *rest,
                                             const struct dw_layout_options *options, struct dw_arena *arena, struct dw_faults *heard,
                                             const struct dw_parts *const **alike)
{
    static const struct dw_layout_options usual;
    struct batching batching = {.asked = asked, .job_count = job_count, .rest = rest, .options = options == NULL ? &usual : options, .arena = arena,
                                .heard = heard};
    if (!is_wanted(asked, job_count, batching.options) || !prepare(&batching))
        return NULL;
    add_units(&batching);
    tell_all(&batching);
    for (size_t p = 0; p < batching.pile_count; p++)
        for (size_t b = 0; b < batching.piles[p].batch_count; b++) {
            fill_batch(&batching, &batching.piles[p], b);
            let_go(&batching, &batching.piles[p], b);
        }
    const struct dw_job **jobs = dw_arena_alloc(arena, job_count, sizeof *jobs);
    for (size_t j = 0; j < job_count; j++)
        jobs[j] = with_batches(&batching, j, arena);
    if (rest != NULL)
        dwi_rest_take(batching.parts, job_count, rest, arena);
    *alike = batching.parts;
    return jobs;
}
