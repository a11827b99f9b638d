/* corner.c - the setting at which the sheets cost least, and what that bounds.
 *
 * Each knob alone is first held to the values that sizing takes: the slide's least box, the bottom groove, what goes inside. Then all stand at their
 * smallest, and that corner is priced: its bound is one of every setting. Where smaller is not simply cheaper (fronts whose sum is kept, slides that cost
 * more when shorter) the corner is that of the others, and the values of these are chosen by an integer program (coupled.c).
 */
#include "wishes.h"

#include <drawerwright/memory.h>

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

bool dwi_price_corner(struct dwi_search *search, struct dwi_target *target)
{
    struct dwi_knobs *knobs = &search->knobs;
    bool all_raised = false;
    for (size_t k = 0; k < knobs->count; k++)
        if (!dwi_is_chosen(search, &knobs->at[k]))
            knobs->at[k].at = knobs->at[k].value_count - 1;
    for (bool raised = true; raised; all_raised = true) {
        struct dwi_trial trial = dwi_try(search);
        const bool priced = trial.possible && dwi_price(search, &trial, target);
        const bool possible = trial.possible;
        dwi_trial_drop(&trial);
        if (possible) {
            target->bound = all_raised ? 0 : target->bound;
            return priced;
        }
        raised = false;
        for (size_t k = 0; k < knobs->count; k++)
            if (!dwi_is_chosen(search, &knobs->at[k]) && knobs->at[k].at > 0) {
                knobs->at[k].at--;
                raised = true;
            }
    }
    return false;
}

static bool has_chosen(const struct dwi_search *search)
{
    for (size_t k = 0; k < search->knobs.count; k++)
        if (dwi_is_chosen(search, &search->knobs.at[k]))
            return true;
    return false;
}

bool dwi_corner(struct dwi_search *search)
{
    hold_all_to_possible(search);
    if (!dwi_price_corner(search, &search->target))
        return false;
    struct dw_arena *arena = dw_arena_child(search->arena);
    struct dwi_choices choices;
    const bool chosen = dwi_choices_find(search, arena, &choices);
    if (chosen)
        dwi_columns(search, &choices, arena);
    else
        search->target.bound = has_chosen(search) ? 0 : search->target.bound;
    dw_arena_free(arena);
    return true;
}
