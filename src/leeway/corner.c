/* corner.c - the setting at which the sheets cost least, and what that bounds.
 *
 * Each knob alone is first held to the values that sizing takes: the slide's least box, the bottom groove, what goes inside. Then all stand at their
 * smallest, and that corner is priced: its bound is one of every setting. Fronts are alternatives, each with a corner of its own, and the
 * bound is the least of theirs: when they are too many for every combination, they are tried bank by bank and nothing is known of all.
 */
#include "knobs.h"

#include <drawerwright/memory.h>

enum { COMBINATIONS_MOST = 60 };

static bool is_possible(struct dwi_search *search)
{
    struct dwi_trial trial = dwi_try(search);
    const bool possible = trial.possible;
    dwi_trial_drop(&trial);
    return possible;
}

/* Halving: what is refused at one value is refused at all smaller ones. Invariant: values[low] is taken, values[high] is not. */
static void hold_to_possible(struct dwi_search *search, struct dwi_knob *knob)
{
    size_t low = 0;
    size_t high = knob->value_count;
    knob->at = high - 1;
    if (is_possible(search))
        low = knob->at;
    while (high - low > 1) {
        knob->at = low + (high - low) / 2;
        if (is_possible(search))
            low = knob->at;
        else
            high = knob->at;
    }
    knob->at = 0;
    knob->value_count = low + 1;
}

static void hold_all_to_possible(struct dwi_search *search)
{
    size_t kept = 0;
    for (size_t k = 0; k < search->knobs.count; k++)
        if (search->knobs.at[k].kind != DWI_FRONTS)
            hold_to_possible(search, &search->knobs.at[k]);
    for (size_t k = 0; k < search->knobs.count; k++)
        if (search->knobs.at[k].value_count > 1)
            search->knobs.at[kept++] = search->knobs.at[k];
    search->knobs.count = kept;
}

/* All but the fronts to their smallest; together raised until sizing takes them. */
static bool price_corner(struct dwi_search *search, struct dwi_target *target)
{
    for (size_t k = 0; k < search->knobs.count; k++)
        if (search->knobs.at[k].kind != DWI_FRONTS)
            search->knobs.at[k].at = search->knobs.at[k].value_count - 1;
    for (bool raised = true; raised;) {
        struct dwi_trial trial = dwi_try(search);
        const bool priced = trial.possible && dwi_price(search, &trial, target);
        const bool possible = trial.possible;
        dwi_trial_drop(&trial);
        if (possible)
            return priced;
        raised = false;
        for (size_t k = 0; k < search->knobs.count; k++)
            if (search->knobs.at[k].kind != DWI_FRONTS && search->knobs.at[k].at > 0) {
                search->knobs.at[k].at--;
                raised = true;
            }
    }
    return false;
}

static void copy_places(const struct dwi_knobs *knobs, size_t *places)
{
    for (size_t k = 0; k < knobs->count; k++)
        places[k] = knobs->at[k].at;
}

static void set_places(struct dwi_knobs *knobs, const size_t *places)
{
    for (size_t k = 0; k < knobs->count; k++)
        knobs->at[k].at = places[k];
}

struct combining {
    struct dwi_search *search;
    size_t *best_places;
    dw_money bound;
    bool found;
};

/* Prices the corner with the fronts as they stand; the first of the cheapest stays the best. */
static void try_fronts(struct combining *combining)
{
    struct dwi_search *search = combining->search;
    struct dwi_target target;
    if (!price_corner(search, &target))
        return;
    combining->bound = dw_least(combining->bound, target.bound);
    if (combining->found && target.cost >= search->target.cost)
        return;
    combining->found = true;
    search->target = target;
    copy_places(&search->knobs, combining->best_places);
}


/* Every combination of alternatives, like a counter: the next one, false after the last. */
static bool next_combination(struct dwi_knobs *knobs)
{
    for (size_t k = 0; k < knobs->count; k++) {
        struct dwi_knob *knob = &knobs->at[k];
        if (knob->kind != DWI_FRONTS)
            continue;
        if (++knob->at < knob->value_count)
            return true;
        knob->at = 0;
    }
    return false;
}

static void bank_by_bank(struct combining *combining)
{
    struct dwi_knobs *knobs = &combining->search->knobs;
    int tries = COMBINATIONS_MOST;
    for (size_t k = 0; k < knobs->count; k++)
        for (size_t i = 1; knobs->at[k].kind == DWI_FRONTS && i < knobs->at[k].value_count && tries > 0; i++, tries--) {
            set_places(knobs, combining->best_places);
            knobs->at[k].at = i;
            try_fronts(combining);
        }
}

static size_t combinations(const struct dwi_knobs *knobs)
{
    size_t product = 1;
    for (size_t k = 0; k < knobs->count && product <= COMBINATIONS_MOST; k++)
        product *= knobs->at[k].kind == DWI_FRONTS ? knobs->at[k].value_count : 1;
    return product;
}

bool dwi_corner(struct dwi_search *search)
{
    hold_all_to_possible(search);
    struct combining combining = {.search = search, .bound = INT64_MAX,
                                  .best_places = dw_arena_alloc(search->arena, search->knobs.count, sizeof(size_t))};
    const bool every = combinations(&search->knobs) <= COMBINATIONS_MOST;
    try_fronts(&combining);
    if (every)
        while (next_combination(&search->knobs))
            try_fronts(&combining);
    else if (combining.found)
        bank_by_bank(&combining);
    set_places(&search->knobs, combining.best_places);
    search->target.bound = every ? combining.bound : 0;
    return combining.found;
}
