/* wishes.c - what each drawer wants of the sheets at each value of its choices.
 *
 * A front that is a step lower changes that drawer's front and box; a shorter slide changes the sides and the bottom. The stages say how. So trials of
 * the whole job are sized, each with one front of every bank shifted (and its neighbor as much the other way) or one slide length taken, and the pieces
 * of the drawers in question are read off their problems. As many trials are needed as the longest bank has fronts times shifts times slide lengths.
 *
 * That is right only if a drawer's pieces hang on its own choices alone, and pieces that belong to no drawer on none. The second is looked at in every
 * trial, and so are groups of matched fronts; where it does not hold there are no choices. The first is how sizing works: a bank's fronts add
 * up to the same, so nothing else of the case moves.
 */
#include "wishes.h"

#include <stdlib.h>
#include <string.h>

#include <drawerwright/memory.h>

enum { OUTER_MOST = 64, ITEMS_MOST = 4096 };

struct reading {
    struct dwi_search *search;
    struct dwi_choices *choices;
    struct dw_arena *arena;
    size_t **first;          /* of each job and case: the number of its first drawer, bank after bank */
    size_t *group;           /* of each drawer; DW_NO_INDEX: none */
    int64_t *rest;           /* of each item: pieces of no group, in the trial at hand */
    size_t first_want;       /* of the trial at hand */
    bool apart;              /* so far: pieces of no group are the same in every trial, and items not too many */
};

/* ---- which choices there are ------------------------------------------------------------------------------------------ */

static size_t add_choice(struct reading *reading, const struct dwi_choice *choice)
{
    struct dwi_choices *choices = reading->choices;
    choices->at = dw_arena_grow(reading->arena, choices->at, choices->count, &choices->capacity, sizeof *choices->at);
    choices->at[choices->count] = *choice;
    return choices->count++;
}

static bool has_fronts(const struct dwi_knobs *knobs)
{
    for (size_t k = 0; k < knobs->count; k++)
        if (knobs->at[k].kind == DWI_FRONTS)
            return true;
    return false;
}

bool dwi_is_chosen(const struct dwi_search *search, const struct dwi_knob *knob)
{
    const bool every = search->options->every;
    return knob->kind == DWI_FRONTS || (knob->kind == DWI_SLIDE_LENGTH && (every || knob->prices != NULL)) ||
           (knob->kind == DWI_BOX_HEIGHT && every && !has_fronts(&search->knobs));
}

/* Slides of too many combinations are left at what is preferred. */
static void add_choices(struct reading *reading)
{
    const struct dwi_knobs *knobs = &reading->search->knobs;
    size_t outer = 1;
    for (size_t k = 0; k < knobs->count; k++) {
        const struct dwi_knob *knob = &knobs->at[k];
        for (size_t d = 0; knob->kind == DWI_FRONTS && d < knob->fronts.count; d++)
            if (knob->fronts.may[d])
                (void)add_choice(reading, &(struct dwi_choice){.knob = k, .front = d, .value_count = 2 * (size_t)knob->fronts.most + 1,
                                                               .base = (size_t)knob->fronts.most});
        if (knob->kind == DWI_SLIDE_LENGTH && dwi_is_chosen(reading->search, knob) && outer * knob->value_count <= OUTER_MOST) {
            (void)add_choice(reading, &(struct dwi_choice){.knob = k, .value_count = knob->value_count, .outer = true});
            outer *= knob->value_count;
        }
        if (knob->kind == DWI_BOX_HEIGHT && dwi_is_chosen(reading->search, knob))
            (void)add_choice(reading, &(struct dwi_choice){.knob = k, .value_count = knob->value_count});
    }
}

/* The choice that this drawer's size hangs on; DW_NO_INDEX. */
static size_t choice_of(const struct reading *reading, const struct dwi_member *drawer, bool outer)
{
    for (size_t c = 0; c < reading->choices->count; c++) {
        const struct dwi_choice *choice = &reading->choices->at[c];
        const struct dwi_knob *knob = &reading->search->knobs.at[choice->knob];
        const bool fronts = knob->kind == DWI_FRONTS;
        for (size_t i = 0; choice->outer == outer && i < knob->member_count; i++) {
            const struct dwi_member *member = &knob->members[i];
            if (member->job == drawer->job && member->case_index == drawer->case_index && member->bank_index == drawer->bank_index &&
                (fronts ? choice->front : member->drawer_index) == drawer->drawer_index)
                return c;
        }
    }
    return DW_NO_INDEX;
}

static size_t values_of(const struct dwi_choices *choices, size_t choice)
{
    return choice == DW_NO_INDEX ? 1 : choices->at[choice].value_count;
}

static size_t group_of(struct reading *reading, const struct dwi_member *drawer)
{
    struct dwi_choices *choices = reading->choices;
    struct dwi_group group = {.inner = choice_of(reading, drawer, false), .outer = choice_of(reading, drawer, true)};
    if (group.inner == DW_NO_INDEX && group.outer == DW_NO_INDEX)
        return DW_NO_INDEX;
    for (size_t g = 0; g < choices->group_count; g++)
        if (choices->groups[g].inner == group.inner && choices->groups[g].outer == group.outer)
            return g;
    group.inner_count = values_of(choices, group.inner);
    group.outer_count = values_of(choices, group.outer);
    group.known = dw_arena_alloc(reading->arena, group.inner_count * group.outer_count, sizeof *group.known);
    choices->groups = dw_arena_grow(reading->arena, choices->groups, choices->group_count, &choices->group_capacity, sizeof *choices->groups);
    choices->groups[choices->group_count] = group;
    return choices->group_count++;
}

static size_t drawers_of(const struct dw_case *one)
{
    size_t count = 0;
    for (size_t b = 0; b < one->bank_count; b++)
        count += one->banks[b].drawer_count;
    return count;
}

static size_t number_of(const struct reading *reading, size_t job, const struct dw_piece *piece)
{
    size_t number = reading->first[job][piece->case_index] + piece->drawer_index;
    for (size_t b = 0; b < piece->bank_index; b++)
        number += reading->search->jobs[job]->cases[piece->case_index].banks[b].drawer_count;
    return number;
}

static void group_drawers(struct reading *reading)
{
    const struct dwi_search *search = reading->search;
    size_t count = 0;
    reading->first = dw_arena_alloc(reading->arena, search->job_count, sizeof *reading->first);
    for (size_t j = 0; j < search->job_count; j++) {
        reading->first[j] = dw_arena_alloc(reading->arena, search->jobs[j]->case_count, sizeof **reading->first);
        for (size_t c = 0; c < search->jobs[j]->case_count; c++) {
            reading->first[j][c] = count;
            count += drawers_of(&search->jobs[j]->cases[c]);
        }
    }
    reading->group = dw_arena_alloc(reading->arena, count, sizeof *reading->group);
    size_t number = 0;
    for (size_t j = 0; j < search->job_count; j++)
        for (size_t c = 0; c < search->jobs[j]->case_count; c++)
            for (size_t b = 0; b < search->jobs[j]->cases[c].bank_count; b++)
                for (size_t d = 0; d < search->jobs[j]->cases[c].banks[b].drawer_count; d++)
                    reading->group[number++] =
                        group_of(reading, &(struct dwi_member){.job = j, .case_index = c, .bank_index = b, .drawer_index = d});
}

/* ---- reading a trial ------------------------------------------------------------------------------------------------ */

static bool is_alike(const struct dw_cut_part *a, const struct dw_cut_part *b)
{
    return a->turn == b->turn && a->length == b->length && a->width == b->width;
}

/* One that may turn lies with its longer side along the length, so that no two items are alike. */
static struct dw_cut_part laid(const struct dw_cut_part *part)
{
    const bool turn = part->turn && part->length != part->width;
    return (struct dw_cut_part){.length = turn ? dw_most(part->length, part->width) : part->length,
                                .width = turn ? dw_least(part->length, part->width) : part->width,
                                .turn = turn};
}

size_t dwi_choices_item(const struct dwi_choices *choices, size_t material, const struct dw_cut_part *part)
{
    const struct dw_cut_part one = laid(part);
    for (size_t i = 0; i < choices->item_count; i++)
        if (choices->items[i].material == material && is_alike(&choices->items[i].part, &one))
            return i;
    return DW_NO_INDEX;
}

static size_t item_of(struct reading *reading, size_t material, const struct dw_cut_part *part)
{
    struct dwi_choices *choices = reading->choices;
    const size_t known = dwi_choices_item(choices, material, part);
    if (known != DW_NO_INDEX)
        return known;
    if (choices->item_count == ITEMS_MOST) {
        reading->apart = false;
        return 0;
    }
    choices->items = dw_arena_grow(reading->arena, choices->items, choices->item_count, &choices->item_capacity, sizeof *choices->items);
    choices->items[choices->item_count] = (struct dwi_item){material, laid(part)};
    return choices->item_count++;
}

static void add_want(struct reading *reading, size_t group, size_t cell, size_t item)
{
    struct dwi_choices *choices = reading->choices;
    for (size_t w = reading->first_want; w < choices->want_count; w++) {
        struct dwi_want *want = &choices->wants[w];
        if (want->group == group && want->cell == cell && want->item == item) {
            want->count++;
            return;
        }
    }
    choices->wants = dw_arena_grow(reading->arena, choices->wants, choices->want_count, &choices->want_capacity, sizeof *choices->wants);
    choices->wants[choices->want_count++] = (struct dwi_want){group, cell, item, 1};
}

/* The values that a trial shows: of inner choices the shift of one front, or a place in all of them; of outer ones a place. */
struct shown {
    size_t front;            /* DW_NO_INDEX: all are as sized */
    int shift;
    size_t inner, outer;
};

/* The cell of a group that this trial shows for the first time; DW_NO_INDEX. */
static size_t cell_of(const struct reading *reading, const struct dwi_group *group, const struct shown *shown)
{
    const struct dwi_choice *choice = group->inner == DW_NO_INDEX ? NULL : &reading->choices->at[group->inner];
    const bool is_front = choice != NULL && reading->search->knobs.at[choice->knob].kind == DWI_FRONTS;
    const bool sized = shown->shift == 0 && shown->inner == 0;
    size_t inner = 0;
    if (is_front && !sized && choice->front != shown->front)
        return DW_NO_INDEX;
    if (is_front)
        inner = (size_t)((int64_t)choice->base + shown->shift);
    else if (choice != NULL)
        inner = shown->inner;
    else if (!sized)
        return DW_NO_INDEX;
    if (inner >= group->inner_count || shown->outer >= group->outer_count)
        return DW_NO_INDEX;
    const size_t cell = inner * group->outer_count + shown->outer;
    return group->known[cell] ? DW_NO_INDEX : cell;
}

static size_t group_of_piece(const struct reading *reading, const struct dw_parts *const *parts, const struct dw_piece_ref *ref)
{
    const struct dw_piece *piece = &parts[ref->job]->at[ref->part].pieces[ref->piece];
    return piece->drawer_index == DW_NO_INDEX || piece->case_index == DW_NO_INDEX ? DW_NO_INDEX : reading->group[number_of(reading, ref->job, piece)];
}

static void read_part(struct reading *reading, const struct dwi_trial *trial, size_t m, size_t part, const size_t *cells)
{
    const struct dw_layout_problem *problem = &trial->problems[m];
    const size_t item = item_of(reading, m, &problem->request.parts[part]);
    if (problem->matches[part] != NULL) {
        reading->rest[item] += problem->request.parts[part].count;
        return;
    }
    for (int64_t i = 0; i < problem->request.parts[part].count; i++) {
        const size_t group = group_of_piece(reading, trial->parts, &problem->pieces[part][i]);
        if (group == DW_NO_INDEX)
            reading->rest[item]++;
        else if (cells[group] != DW_NO_INDEX)
            add_want(reading, group, cells[group], item);
    }
}

/* Reads what the trial shows of cells not known yet. */
static void read_trial(struct reading *reading, const struct dwi_trial *trial, const struct shown *shown)
{
    struct dwi_choices *choices = reading->choices;
    struct dw_arena *scratch = dw_arena_child(reading->arena);
    size_t *cells = dw_arena_alloc(scratch, choices->group_count, sizeof *cells);
    reading->first_want = choices->want_count;
    memset(reading->rest, 0, ITEMS_MOST * sizeof *reading->rest);
    for (size_t g = 0; g < choices->group_count; g++)
        cells[g] = cell_of(reading, &choices->groups[g], shown);
    for (size_t m = 0; m < trial->problem_count; m++)
        for (size_t p = 0; p < trial->problems[m].request.part_count; p++)
            read_part(reading, trial, m, p, cells);
    for (size_t g = 0; g < choices->group_count; g++)
        if (cells[g] != DW_NO_INDEX)
            choices->groups[g].known[cells[g]] = true;
    dw_arena_free(scratch);
    if (choices->fixed == NULL)
        choices->fixed = dw_arena_copy(reading->arena, reading->rest, ITEMS_MOST, sizeof *reading->rest);
    reading->apart = reading->apart && memcmp(choices->fixed, reading->rest, ITEMS_MOST * sizeof *reading->rest) == 0;
}

/* ---- the trials ------------------------------------------------------------------------------------------------------- */

/* Shifts one front of a knob, and the next one that gives as much the other way. */
static bool shift_front(struct dwi_knob *knob, const struct shown *shown)
{
    struct dwi_fronts *fronts = &knob->fronts;
    memset(fronts->shifts, 0, fronts->count * sizeof *fronts->shifts);
    knob->at = 0;
    if (shown->shift == 0 || shown->front >= fronts->count || !fronts->may[shown->front] || abs(shown->shift) > fronts->most)
        return false;
    size_t other = (shown->front + 1) % fronts->count;
    while (!fronts->may[other])
        other = (other + 1) % fronts->count;
    fronts->shifts[shown->front] = shown->shift;
    fronts->shifts[other] = -shown->shift;
    knob->at = 1;
    return true;
}

/* All knobs as this trial wants them; `only`: no other knob of fronts is shifted. Is any shifted, or nothing asked to be? */
static bool set_knobs(const struct reading *reading, const struct shown *shown, size_t only)
{
    struct dwi_knobs *knobs = &reading->search->knobs;
    bool shifted = shown->shift == 0;
    for (size_t k = 0; k < knobs->count; k++) {
        struct dwi_knob *knob = &knobs->at[k];
        const struct shown still = {.front = DW_NO_INDEX};
        if (knob->kind == DWI_FRONTS)
            shifted = shift_front(knob, only == DW_NO_INDEX || only == k ? shown : &still) || shifted;
        else
            knob->at = dwi_is_chosen(reading->search, knob) ? 0 : knob->value_count - 1;
    }
    for (size_t c = 0; c < reading->choices->count; c++) {
        const struct dwi_choice *choice = &reading->choices->at[c];
        struct dwi_knob *knob = &knobs->at[choice->knob];
        if (knob->kind != DWI_FRONTS)
            knob->at = choice->outer ? shown->outer : shown->inner;
        knob->at = knob->at < knob->value_count ? knob->at : knob->value_count - 1;
    }
    return shifted;
}

/* The first trial's problems stay, with what they stand on. */
static bool try_once(struct reading *reading, const struct shown *shown, size_t only)
{
    struct dwi_choices *choices = reading->choices;
    if (!set_knobs(reading, shown, only))
        return true;
    struct dwi_trial trial = dwi_try(reading->search);
    const bool possible = trial.possible;
    if (possible)
        read_trial(reading, &trial, shown);
    if (possible && choices->problems == NULL) {
        choices->problems = trial.problems;
        choices->problem_count = trial.problem_count;
        return true;
    }
    dwi_trial_drop(&trial);
    return possible;
}

/* Where not all banks can be so, each is tried by itself. */
static void try_shown(struct reading *reading, const struct shown *shown)
{
    if (try_once(reading, shown, DW_NO_INDEX))
        return;
    for (size_t k = 0; shown->shift != 0 && k < reading->search->knobs.count; k++)
        if (reading->search->knobs.at[k].kind == DWI_FRONTS)
            (void)try_once(reading, shown, k);
}

static void try_inner(struct reading *reading, size_t outer)
{
    const struct dwi_choices *choices = reading->choices;
    size_t fronts = 0;
    size_t inner = 1;
    int most = 0;
    for (size_t c = 0; c < choices->count; c++) {
        const struct dwi_knob *knob = &reading->search->knobs.at[choices->at[c].knob];
        fronts = knob->fronts.count > fronts ? knob->fronts.count : fronts;
        most = knob->fronts.most > most ? knob->fronts.most : most;
        inner = knob->kind != DWI_FRONTS && !choices->at[c].outer && knob->value_count > inner ? knob->value_count : inner;
    }
    for (size_t i = 0; i < inner; i++)
        try_shown(reading, &(struct shown){.front = DW_NO_INDEX, .inner = i, .outer = outer});
    for (size_t d = 0; d < fronts; d++)
        for (int shift = -most; shift <= most; shift++)
            if (shift != 0)
                try_shown(reading, &(struct shown){.front = d, .shift = shift, .outer = outer});
}

static bool all_known(const struct dwi_choices *choices)
{
    for (size_t g = 0; g < choices->group_count; g++)
        for (size_t cell = 0; cell < choices->groups[g].inner_count * choices->groups[g].outer_count; cell++)
            if (!choices->groups[g].known[cell])
                return false;
    return true;
}

static int order_of(size_t a, size_t b)
{
    return (a > b) - (a < b);
}

static int by_cell(const void *left, const void *right)
{
    const struct dwi_want *a = left;
    const struct dwi_want *b = right;
    const int group = order_of(a->group, b->group);
    const int cell = order_of(a->cell, b->cell);
    return group != 0 ? group : cell != 0 ? cell : order_of(a->item, b->item);
}

static bool all_chosen(const struct reading *reading)
{
    const struct dwi_search *search = reading->search;
    for (size_t k = 0; k < search->knobs.count; k++) {
        bool chosen = !dwi_is_chosen(search, &search->knobs.at[k]);
        for (size_t c = 0; c < reading->choices->count; c++)
            chosen = chosen || reading->choices->at[c].knob == k;
        if (!chosen)
            return false;
    }
    return true;
}

bool dwi_choices_find(struct dwi_search *search, struct dw_arena *arena, struct dwi_choices *choices)
{
    *choices = (struct dwi_choices){.problems = NULL};
    struct reading reading = {.search = search, .choices = choices, .arena = arena, .apart = true};
    add_choices(&reading);
    if (choices->count == 0)
        return false;
    const struct dwi_setting setting = dwi_setting_save(&search->knobs, arena);
    reading.rest = dw_arena_alloc(arena, ITEMS_MOST, sizeof *reading.rest);
    group_drawers(&reading);
    size_t outer = 1;
    for (size_t c = 0; c < choices->count; c++)
        outer = choices->at[c].outer && choices->at[c].value_count > outer ? choices->at[c].value_count : outer;
    for (size_t o = 0; o < outer && reading.apart; o++)
        try_inner(&reading, o);
    dwi_setting_restore(&search->knobs, &setting);
    if (choices->want_count > 0)
        qsort(choices->wants, choices->want_count, sizeof *choices->wants, by_cell);
    choices->whole = all_known(choices) && all_chosen(&reading);
    return choices->problems != NULL && reading.apart;
}

/* ---- values ------------------------------------------------------------------------------------------------------------- */

void dwi_choices_take(const struct dwi_choices *choices, const size_t *values, struct dwi_knobs *knobs)
{
    for (size_t c = 0; c < choices->count; c++) {
        struct dwi_knob *knob = &knobs->at[choices->at[c].knob];
        if (knob->kind != DWI_FRONTS)
            knob->at = values[c];
        else if (choices->at[c].front < knob->fronts.count)
            knob->fronts.shifts[choices->at[c].front] = (int)values[c] - knob->fronts.most;
    }
    for (size_t k = 0; k < knobs->count; k++) {
        struct dwi_knob *knob = &knobs->at[k];
        for (size_t d = 0; knob->kind == DWI_FRONTS && d < knob->fronts.count; d++)
            knob->at = d == 0 ? knob->fronts.shifts[d] != 0 : knob->at || knob->fronts.shifts[d] != 0;
    }
}

dw_money dwi_choice_price(const struct dwi_choices *choices, const struct dwi_knobs *knobs, size_t choice, size_t value)
{
    const struct dwi_knob *knob = &knobs->at[choices->at[choice].knob];
    return knob->prices == NULL ? 0 : knob->prices[value];
}

dw_length dwi_choice_distance(const struct dwi_choices *choices, const struct dwi_knobs *knobs, size_t choice, size_t value)
{
    const struct dwi_knob *knob = &knobs->at[choices->at[choice].knob];
    if (knob->kind != DWI_FRONTS)
        return dwi_knob_distance(knob, value);
    const dw_length steps = value > choices->at[choice].base ? (dw_length)(value - choices->at[choice].base) : (dw_length)(choices->at[choice].base - value);
    dw_length sum = 0;
    for (size_t i = 0; i < knob->member_count; i++)
        sum += knob->members[i].count * steps * knob->fronts.step;
    return sum;
}
