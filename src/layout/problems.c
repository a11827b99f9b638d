/* problems.c - the parts of each material as a cutting request.
 *
 * The request is in the grain's frame: grain runs along x. A part whose grain runs along its length lies along x, one whose grain runs
 * across lies along y, and neither may be turned; where grain does not matter, either way will do. Sheets with their grain across are
 * turned, trims and all. Pieces of one size and freedom become one part of the request, whichever job they are for. A matched group
 * becomes a part of its own: its pieces and the kerfs between them as one rectangle, taken apart again in pieces.c.
 */
#include <drawerwright/layout.h>

#include <string.h>

#include <drawerwright/address.h>
#include <drawerwright/memory.h>

#include "breakdown.h"
#include "frame.h"

enum { USUAL_LIFT = 23000000 }; /* mg. NIOSH, Applications Manual for the Revised Lifting Equation, 1994: load constant 23 kg (from memory) */

/* One part of the request while it is gathered. */
struct gathered {
    struct dw_cut_part part;
    struct dw_piece_ref *pieces;
    size_t count, capacity;
    const struct dw_match *match;
};

/* What one problem is gathered in. */
struct gathering {
    const struct dw_parts *const *jobs;
    size_t job_count;
    const struct dw_layout_options *options;
    struct dw_arena *arena;
    struct dw_faults *faults;
    const struct dw_material *material;
    struct gathered *parts;
    size_t part_count, part_capacity;
    struct dw_sheet_source *sources;
    size_t source_count, source_capacity;
};

/* All problems of one call. */
struct problems {
    const struct dw_parts *const *jobs;
    size_t job_count;
    const struct dw_layout_options *options;
    struct dw_arena *arena;
    struct dw_faults *faults;
    struct dw_layout_problem *problems;
    size_t count;
};

/* ---- parts ---- */

static bool is_of_material(const struct gathering *gathering, size_t job, const struct dw_part *part)
{
    const struct dw_shop *shop = &gathering->jobs[job]->sizing->job->shop;
    return part->material < shop->material_count && strcmp(shop->materials[part->material].id, gathering->material->id) == 0;
}

/* The part as it lies in the grain's frame. */
static struct dw_cut_part lie(const struct gathering *gathering, const struct dw_part *part)
{
    const bool free = part->grain == DW_FREE || !gathering->material->grained;
    const struct extent size = in_frame(part->length.value, part->width.value, !free && part->grain == DW_ACROSS);
    return (struct dw_cut_part){.length = size.x, .width = size.y, .turn = free};
}

static struct gathered *add_gathered(struct gathering *gathering, struct dw_cut_part part)
{
    gathering->parts = dw_arena_grow(gathering->arena, gathering->parts, gathering->part_count, &gathering->part_capacity,
                                     sizeof *gathering->parts);
    struct gathered *added = &gathering->parts[gathering->part_count++];
    *added = (struct gathered){.part = part};
    return added;
}

static void add_piece(struct gathering *gathering, struct gathered *to, struct dw_piece_ref piece)
{
    to->pieces = dw_arena_grow(gathering->arena, to->pieces, to->count, &to->capacity, sizeof *to->pieces);
    to->pieces[to->count++] = piece;
}

/* The request's part for pieces that lie like this, matched groups apart. */
static struct gathered *part_for(struct gathering *gathering, struct dw_cut_part part)
{
    for (size_t i = 0; i < gathering->part_count; i++) {
        const struct gathered *found = &gathering->parts[i];
        if (found->match == NULL && found->part.length == part.length && found->part.width == part.width && found->part.turn == part.turn)
            return &gathering->parts[i];
    }
    return add_gathered(gathering, part);
}

/* A matched group as one rectangle, kerfs included. */
static void gather_match(struct gathering *gathering, size_t job, const struct dw_match *match)
{
    const struct dw_part *first = &gathering->jobs[job]->at[match->parts[0]];
    if (!is_of_material(gathering, job, first))
        return;
    const dw_length kerf = gathering->material->kerf;
    struct dw_cut_part whole = {.count = 1, .turn = true};
    struct gathered *group = add_gathered(gathering, whole);
    group->match = match;
    for (size_t i = 0; i < match->count; i++) {
        const struct dw_cut_part part = lie(gathering, &gathering->jobs[job]->at[match->parts[i]]);
        const dw_length between = i == 0 ? 0 : kerf;
        whole.turn = whole.turn && part.turn;
        whole.length = match->stacked_along ? whole.length + between + part.length : dw_most(whole.length, part.length);
        whole.width = match->stacked_along ? dw_most(whole.width, part.width) : whole.width + between + part.width;
        add_piece(gathering, group, (struct dw_piece_ref){job, match->parts[i], match->pieces[i]});
    }
    group->part = whole;
}

static bool is_matched(const struct dw_parts *parts, size_t part, size_t piece)
{
    for (size_t m = 0; m < parts->match_count; m++)
        for (size_t i = 0; i < parts->matches[m].count; i++)
            if (parts->matches[m].parts[i] == part && parts->matches[m].pieces[i] == piece)
                return true;
    return false;
}

static void gather_parts(struct gathering *gathering)
{
    for (size_t job = 0; job < gathering->job_count; job++) {
        const struct dw_parts *parts = gathering->jobs[job];
        for (size_t m = 0; m < parts->match_count; m++)
            if (parts->matches[m].count > 0)
                gather_match(gathering, job, &parts->matches[m]);
        for (size_t p = 0; p < parts->count; p++) {
            if (!is_of_material(gathering, job, &parts->at[p]))
                continue;
            for (size_t piece = 0; piece < parts->at[p].count; piece++) {
                if (is_matched(parts, p, piece))
                    continue;
                struct gathered *to = part_for(gathering, lie(gathering, &parts->at[p]));
                add_piece(gathering, to, (struct dw_piece_ref){job, p, piece});
                to->part.count++;
            }
        }
    }
}

/* ---- sheets ---- */

static struct dw_sheet_source *add_source(struct gathering *gathering)
{
    gathering->sources = dw_arena_grow(gathering->arena, gathering->sources, gathering->source_count, &gathering->source_capacity,
                                       sizeof *gathering->sources);
    return &gathering->sources[gathering->source_count++];
}

static bool is_left_out(const struct dw_shop *shop, const char *supplier)
{
    for (size_t i = 0; i < shop->supplier_count; i++)
        if (strcmp(shop->suppliers[i].name, supplier) == 0)
            return shop->suppliers[i].left_out;
    return false;
}

/* How many of an offer can be had still. */
static int64_t count_of(const struct gathering *gathering, const struct dw_sheet_offer *offer)
{
    int64_t count = offer->count;
    for (size_t i = 0; i < gathering->options->taken_count && count >= 0; i++) {
        const struct dw_taken *taken = &gathering->options->taken[i];
        if (strcmp(taken->material, gathering->material->id) == 0 && strcmp(taken->sheet, offer->id) == 0)
            count = dw_most(0, count - taken->count);
    }
    return count;
}

static void gather_offers(struct gathering *gathering, const struct dw_shop *shop)
{
    const struct dw_material *material = gathering->material;
    for (size_t i = 0; i < material->sheet_count; i++) {
        const struct dw_sheet_offer *offer = &material->sheets[i];
        const int64_t count = count_of(gathering, offer);
        if (count == 0 || is_left_out(shop, offer->supplier))
            continue;
        struct dw_sheet_source *source = add_source(gathering);
        *source = (struct dw_sheet_source){.id = offer->id, .supplier = offer->supplier, .offer = i, .owned_index = DW_NO_INDEX,
                                           .length = offer->length, .width = offer->width,
                                           .grain_across = offer->grain_across && material->grained, .allowance = offer->allowance,
                                           .price = offer->price, .value = offer->price, .count = count, .note = ""};
        memcpy(source->trim, offer->trim, sizeof source->trim);
        source->trim[1] = dw_most(offer->trim[1], offer->allowance);
        source->trim[3] = dw_most(offer->trim[3], offer->allowance);
    }
}

/* An offcut has been cut already: it needs no trim unless told, and its size is as measured. */
static void gather_owned(struct gathering *gathering)
{
    for (size_t i = 0; i < gathering->options->owned_count; i++) {
        const struct dw_owned *owned = &gathering->options->owned[i];
        if (owned->count == 0 || strcmp(owned->material, gathering->material->id) != 0)
            continue;
        struct dw_sheet_source *source = add_source(gathering);
        *source = (struct dw_sheet_source){
            .id = owned->id, .supplier = "", .owned = true, .offer = DW_NO_INDEX, .owned_index = i, .length = owned->length,
            .width = owned->width, .grain_across = owned->grain_across && gathering->material->grained,
            .value = owned->value > 0 ? owned->value : 1, .count = owned->count, .note = owned->note == NULL ? "" : owned->note};
        memcpy(source->trim, owned->trim, sizeof source->trim);
    }
}

static struct dw_cut_sheet sheet_for(const struct dw_sheet_source *source)
{
    const struct extent size = in_frame(source->length, source->width, source->grain_across);
    struct dw_cut_sheet sheet = {.length = size.x, .width = size.y, .price = source->price, .value = source->value, .count = source->count};
    for (size_t i = 0; i < 4; i++)
        sheet.trim[i] = source->trim[source->grain_across ? (i + 2) % 4 : i];
    return sheet;
}

/* ---- does it fit at all ---- */

static struct extent usable(const struct dw_cut_sheet *sheet)
{
    return (struct extent){sheet->length - sheet->trim[0] - sheet->trim[1], sheet->width - sheet->trim[2] - sheet->trim[3]};
}

/* By how much a part (as it lies) is larger than the room; 0 when it fits. */
static dw_length excess(dw_length length, dw_length width, struct extent room)
{
    return dw_most(0, length - room.x) + dw_most(0, width - room.y);
}

static dw_length least_excess(const struct dw_cut_part *part, struct extent room)
{
    const dw_length straight = excess(part->length, part->width, room);
    return part->turn ? dw_least(straight, excess(part->width, part->length, room)) : straight;
}

/* Is there a sheet that would hold the part if its grain ran the other way? */
static bool fits_turned(const struct gathering *gathering, const struct dw_cut_request *request, const struct gathered *part)
{
    for (size_t s = 0; s < request->sheet_count && !part->part.turn && part->match == NULL; s++)
        if (excess(part->part.width, part->part.length, usable(&request->sheets[s])) == 0)
            return gathering->material->grained;
    return false;
}

static void report_too_large(const struct gathering *gathering, const struct dw_cut_request *request, const struct gathered *part,
                             const struct dw_cut_sheet *nearest)
{
    struct dw_arena *arena = gathering->arena;
    const struct dw_parts *const *jobs = gathering->jobs;
    const struct extent room = usable(nearest);
    const char *who = part->match == NULL ? dwi_layout_piece_words(arena, jobs, part->pieces[0])
                                          : dw_arena_format(arena, "matched group %s", part->match->name);
    dw_error(gathering->faults, DW_IMPOSSIBLE, "part-over-sheet", dwi_layout_address(arena, piece_of(jobs, part->pieces[0])),
             "%s needs %s x %s of %s%s, and no sheet on offer holds it\nthe nearest sheet gives %s x %s after trim%s", who,
             dwi_layout_show(arena, jobs, part->part.length), dwi_layout_show(arena, jobs, part->part.width), gathering->material->name,
             part->part.turn ? "" : " (grain along the first)", dwi_layout_show(arena, jobs, room.x), dwi_layout_show(arena, jobs, room.y),
             part->match != NULL                        ? "; offer a larger one, or match fewer fronts"
             : fits_turned(gathering, request, part) ? "; it would fit with its grain the other way: offer a sheet whose grain runs so, or a larger one, or let the material's parts turn"
                                                     : "; offer a larger one");
}

/* Whatever sheet it is cut from, a part that does not fit the van stays at the yard; unless an offcut holds it that is in the shop. */
static void check_van(const struct gathering *gathering, const struct dw_cut_request *request, const struct gathered *part)
{
    const struct dw_habits *habits = &first_job(gathering->jobs)->shop.habits;
    const struct box van = dwi_box(habits->van_length, habits->van_width);
    if (dwi_box_holds(&van, part->part.length, part->part.width))
        return;
    for (size_t s = 0; s < request->sheet_count; s++)
        if (gathering->sources[s].owned && least_excess(&part->part, usable(&request->sheets[s])) == 0)
            return;
    struct dw_arena *arena = gathering->arena;
    const struct dw_parts *const *jobs = gathering->jobs;
    dw_error(gathering->faults, DW_IMPOSSIBLE, "part-over-van", dwi_layout_address(arena, piece_of(jobs, part->pieces[0])),
             "%s needs %s x %s of %s, and the van takes no more than %s\na larger van_length and van_width, or have it delivered (0: no limit)",
             part->match == NULL ? dwi_layout_piece_words(arena, jobs, part->pieces[0]) : dw_arena_format(arena, "matched group %s", part->match->name),
             dwi_layout_show(arena, jobs, part->part.length), dwi_layout_show(arena, jobs, part->part.width), gathering->material->name,
             dwi_box_words(arena, jobs, &van));
}

static void check_fit(const struct gathering *gathering, const struct dw_cut_request *request)
{
    for (size_t p = 0; p < gathering->part_count; p++) {
        const struct gathered *part = &gathering->parts[p];
        size_t nearest = 0;
        for (size_t s = 1; s < request->sheet_count; s++)
            if (least_excess(&part->part, usable(&request->sheets[s])) < least_excess(&part->part, usable(&request->sheets[nearest])))
                nearest = s;
        if (least_excess(&part->part, usable(&request->sheets[nearest])) > 0)
            report_too_large(gathering, request, part, &request->sheets[nearest]);
        else
            check_van(gathering, request, part);
    }
}

/* ---- the problem ---- */

/* "S", "T", "U" and so on, then "SS", "ST": sheets are lettered from where the letters of cases seldom reach, so that on tape S1-b is not
 * taken for a part. X leads parts listed by hand, Z looks like a 2. */
static const char *letter_of(struct dw_arena *arena, size_t number)
{
    static const char letters[] = "STUVWY";
    enum { LETTERS = sizeof letters - 1 };
    const char last = letters[number % LETTERS];
    return number < LETTERS ? dw_arena_format(arena, "%c", last) : dw_arena_format(arena, "%s%c", letter_of(arena, number / LETTERS - 1), last);
}

static struct dw_cut_request request_of(const struct gathering *gathering)
{
    static const int first_cuts[] = {-1, DW_RIP, DW_CROSSCUT};
    struct dw_arena *arena = gathering->arena;
    const struct dw_layout_options *options = gathering->options;
    struct dw_cut_part *parts = dw_arena_alloc(arena, gathering->part_count, sizeof *parts);
    for (size_t p = 0; p < gathering->part_count; p++)
        parts[p] = gathering->parts[p].part;
    struct dw_cut_sheet *sheets = dw_arena_alloc(arena, gathering->source_count, sizeof *sheets);
    for (size_t s = 0; s < gathering->source_count; s++)
        sheets[s] = sheet_for(&gathering->sources[s]);
    return (struct dw_cut_request){.parts = parts, .part_count = gathering->part_count, .sheets = sheets,
                                   .sheet_count = gathering->source_count, .kerf = gathering->material->kerf, .turns = options->turns,
                                   .first_cut = first_cuts[options->first_cut],
                                   .keep = {gathering->material->keep_length, gathering->material->keep_width},
                                   .patience = options->patience, .work = options->work, .seed = options->seed, .threads = options->threads};
}

/* What the caller says, else the shop, else the usual. */
static dw_mass lift_of(const struct gathering *gathering)
{
    const dw_mass habit = first_job(gathering->jobs)->shop.habits.lift_most;
    if (gathering->options->lift_most > 0)
        return gathering->options->lift_most;
    return habit > 0 ? habit : USUAL_LIFT;
}

/* "S1-b" of what an earlier plan left, "K4T9XY/S1-b". */
static void gather_chalked(const struct gathering *gathering, struct dw_layout_problem *problem)
{
    const char **chalked = dw_arena_alloc(gathering->arena, gathering->options->owned_count, sizeof *chalked);
    for (size_t i = 0; i < gathering->options->owned_count; i++) {
        const char *slash = strchr(gathering->options->owned[i].id, '/');
        if (slash != NULL)
            chalked[problem->chalked_count++] = slash + 1;
    }
    problem->chalked = chalked;
}

static void finish(const struct gathering *gathering, struct dw_layout_problem *problem)
{
    struct dw_arena *arena = gathering->arena;
    const struct dw_piece_ref **pieces = dw_arena_alloc(arena, gathering->part_count, sizeof *pieces);
    const struct dw_match **matches = dw_arena_alloc(arena, gathering->part_count, sizeof *matches);
    for (size_t p = 0; p < gathering->part_count; p++) {
        pieces[p] = gathering->parts[p].pieces;
        matches[p] = gathering->parts[p].match;
    }
    problem->request = request_of(gathering);
    problem->sources = gathering->sources;
    problem->source_count = gathering->source_count;
    problem->pieces = pieces;
    problem->matches = matches;
    gather_chalked(gathering, problem);
    problem->lift_most = lift_of(gathering);
}

static void add_problem(struct problems *problems, const struct dw_shop *shop, size_t material)
{
    struct gathering gathering = {.jobs = problems->jobs, .job_count = problems->job_count, .options = problems->options,
                                  .arena = problems->arena, .faults = problems->faults, .material = &shop->materials[material]};
    gather_parts(&gathering);
    if (gathering.part_count == 0)
        return;
    gather_offers(&gathering, shop);
    gather_owned(&gathering);
    if (gathering.source_count == 0) {
        dw_error(problems->faults, DW_IMPOSSIBLE, "no-sheets",
                 dw_address_index(problems->arena, "shop.materials", material),
                 "parts are wanted of %s, and no sheet of it is on offer\noffer a sheet size, or let its supplier in again",
                 gathering.material->name);
        return;
    }
    struct dw_layout_problem *problem = &problems->problems[problems->count];
    *problem = (struct dw_layout_problem){.material = material, .letter = letter_of(problems->arena, problems->count)};
    problems->count++;
    finish(&gathering, problem);
    check_fit(&gathering, &problem->request);
}

/* Every material in use must be known to the first job's shop, with the same thickness. */
static void check_shared(const struct problems *problems, const struct dw_shop *shop, size_t job)
{
    const struct dw_parts *parts = problems->jobs[job];
    const struct dw_shop *other = &parts->sizing->job->shop;
    for (size_t m = 0; m < other->material_count; m++) {
        const struct dw_material *material = &other->materials[m];
        bool used = false, known = false;
        for (size_t p = 0; p < parts->count; p++)
            used = used || parts->at[p].material == m;
        for (size_t k = 0; k < shop->material_count; k++)
            known = known || (strcmp(shop->materials[k].id, material->id) == 0 && shop->materials[k].thickness == material->thickness);
        if (used && !known)
            dw_error(problems->faults, DW_INPUT, "shop-differs", dw_address_index(problems->arena, "shop.materials", m),
                     "%s of %s is not in the shop of %s in this thickness\njobs that are planned together share one shop file",
                     material->id, parts->sizing->job->id, problems->jobs[0]->sizing->job->id);
    }
}

static bool is_batch(const struct dw_shop *shop, size_t material)
{
    for (size_t m = 0; m < shop->material_count; m++)
        if (dw_is_batch_of(shop->materials[material].id, shop->materials[m].id))
            return true;
    return false;
}

/* Batches come with their material, so that its sheets keep their letter where all of them are of one batch. */
static void problems_body(void *context)
{
    struct problems *problems = context;
    const struct dw_shop *shop = &first_job(problems->jobs)->shop;
    problems->problems = dw_arena_alloc(problems->arena, shop->material_count, sizeof *problems->problems);
    for (size_t job = 1; job < problems->job_count; job++)
        check_shared(problems, shop, job);
    for (size_t material = 0; material < shop->material_count; material++) {
        if (is_batch(shop, material))
            continue;
        add_problem(problems, shop, material);
        for (size_t batch = 0; batch < shop->material_count; batch++)
            if (dw_is_batch_of(shop->materials[batch].id, shop->materials[material].id))
                add_problem(problems, shop, batch);
    }
}

enum dw_status dw_layout_problems(const struct dw_parts *const *jobs, size_t job_count, const struct dw_layout_options *options,
                                  struct dw_arena *arena, struct dw_faults *faults, const struct dw_layout_problem **found, size_t *count)
{
    static const struct dw_layout_options usual;
    *found = NULL;
    *count = 0;
    struct problems problems = {.jobs = jobs, .job_count = job_count, .options = options == NULL ? &usual : options, .arena = arena,
                                .faults = faults};
    const size_t errors = faults->errors;
    if (!dw_arena_guard(arena, problems_body, &problems)) {
        dw_error(faults, DW_SURROUNDINGS, "memory", "", "memory ran out while the parts were gathered");
        return DW_SURROUNDINGS;
    }
    if (faults->errors != errors)
        return faults->status;
    *found = problems.problems;
    *count = problems.count;
    return DW_DONE;
}
