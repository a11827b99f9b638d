/* turn_back.c - from the corner back towards what is preferred, as near as the target's sheets allow.
 *
 * The settings that hold are closed downward: what holds stays so when a size falls. First greedily: each knob, those with most to win first, to its
 * preferred value if that holds, then what remains by halving. Where the settings are few, those nearer than what was found are then
 * asked in the order of their distance, save those that a refusal rules out because it was of smaller sizes: the first that holds is the nearest.
 */
#include "knobs.h"

#include <drawerwright/memory.h>

enum { SETTINGS_MOST = 4096, QUESTIONS_MOST = 200 };

/* Fronts and slides of other prices were chosen as near as their program found (coupled.c). */
static bool is_turned(const struct dwi_knob *knob)
{
    return knob->kind != DWI_FRONTS && knob->prices == NULL && knob->at > 0;
}

/* Greatest distance first; stable. */
static void sort_by_distance(struct dwi_knobs *knobs)
{
    for (size_t i = 1; i < knobs->count; i++) {
        const struct dwi_knob knob = knobs->at[i];
        const dw_length distance = dwi_knob_distance(&knob, knob.at);
        size_t to = i;
        for (; to > 0 && dwi_knob_distance(&knobs->at[to - 1], knobs->at[to - 1].at) < distance; to--)
            knobs->at[to] = knobs->at[to - 1];
        knobs->at[to] = knob;
    }
}

static void turn_back(struct dwi_search *search, struct dwi_knob *knob)
{
    const size_t corner = knob->at;
    knob->at = 0;
    if (!dwi_holds(search))
        knob->at = corner;
}

/* Invariant: values[low] does not hold, values[high] does. */
static void turn_back_part(struct dwi_search *search, struct dwi_knob *knob)
{
    size_t low = 0;
    size_t high = knob->at;
    while (high - low > 1) {
        knob->at = low + (high - low) / 2;
        if (dwi_holds(search))
            high = knob->at;
        else
            low = knob->at;
    }
    knob->at = high;
}

/* ---- all of them, when they are few ---------------------------------------------------------------------------- */

/* The settings at or above the corner: for each the place of every knob, and its distance. */
struct settings {
    size_t knob_count, count;
    size_t *places;        /* count x knob_count */
    dw_length *distances;
    size_t *order;
    bool *refused;
};

static size_t number_of_settings(const struct dwi_knobs *knobs)
{
    size_t product = 1;
    for (size_t k = 0; k < knobs->count && product <= SETTINGS_MOST; k++)
        product *= is_turned(&knobs->at[k]) ? knobs->at[k].at + 1 : 1;
    return product;
}

static void add_distances(const struct dwi_knobs *knobs, struct settings *settings, size_t setting)
{
    size_t rest = setting;
    for (size_t k = 0; k < knobs->count; k++) {
        const struct dwi_knob *knob = &knobs->at[k];
        const size_t values = is_turned(knob) ? knob->at + 1 : 1;
        const size_t place = is_turned(knob) ? rest % values : knob->at;
        rest /= values;
        settings->places[setting * knobs->count + k] = place;
        settings->distances[setting] += dwi_knob_distance(knob, place);
    }
}

/* By distance, equal ones as they came: a merge of halves. */
static void sort_order(const dw_length *distances, size_t *order, size_t *spare, size_t count)
{
    if (count < 2)
        return;
    const size_t half = count / 2;
    sort_order(distances, order, spare, half);
    sort_order(distances, order + half, spare, count - half);
    for (size_t a = 0, b = half, to = 0; to < count; to++)
        spare[to] = b == count || (a < half && distances[order[a]] <= distances[order[b]]) ? order[a++] : order[b++];
    for (size_t i = 0; i < count; i++)
        order[i] = spare[i];
}

static struct settings settings_of(const struct dwi_knobs *knobs, size_t count, struct dw_arena *arena)
{
    struct settings settings = {.knob_count = knobs->count,
                                .count = count,
                                .places = dw_arena_alloc(arena, count * knobs->count, sizeof *settings.places),
                                .distances = dw_arena_alloc(arena, count, sizeof *settings.distances),
                                .order = dw_arena_alloc(arena, count, sizeof *settings.order),
                                .refused = dw_arena_alloc(arena, count, sizeof *settings.refused)};
    for (size_t i = 0; i < count; i++) {
        settings.order[i] = i;
        add_distances(knobs, &settings, i);
    }
    sort_order(settings.distances, settings.order, dw_arena_alloc(arena, count, sizeof(size_t)), count);
    return settings;
}

/* Refused with `setting` is all that is nowhere smaller. */
static void refuse(struct settings *settings, size_t setting)
{
    const size_t *low = &settings->places[setting * settings->knob_count];
    for (size_t i = 0; i < settings->count; i++) {
        const size_t *places = &settings->places[i * settings->knob_count];
        bool larger = true;
        for (size_t k = 0; k < settings->knob_count && larger; k++)
            larger = places[k] <= low[k];
        settings->refused[i] = settings->refused[i] || larger;
    }
}

static void set(struct dwi_knobs *knobs, const struct settings *settings, size_t setting)
{
    for (size_t k = 0; k < knobs->count; k++)
        knobs->at[k].at = settings->places[setting * knobs->count + k];
}

static dw_length distance_now(const struct dwi_knobs *knobs)
{
    dw_length sum = 0;
    for (size_t k = 0; k < knobs->count; k++)
        sum += dwi_knob_distance(&knobs->at[k], knobs->at[k].at);
    return sum;
}

/* Asks in the order of distance until one holds or none is nearer than the knobs' own. */
static void look_nearer(struct dwi_search *search, struct settings *settings)
{
    struct dwi_knobs *knobs = &search->knobs;
    const dw_length reached = distance_now(knobs);
    size_t *found = dw_arena_alloc(search->arena, knobs->count, sizeof *found);
    for (size_t k = 0; k < knobs->count; k++)
        found[k] = knobs->at[k].at;
    int left = QUESTIONS_MOST;
    for (size_t i = 0; i < settings->count && left > 0 && search->work > 0; i++) {
        const size_t setting = settings->order[i];
        if (settings->distances[setting] >= reached)
            break;
        if (settings->refused[setting])
            continue;
        set(knobs, settings, setting);
        left--;
        if (dwi_holds(search))
            return;
        refuse(settings, setting);
    }
    for (size_t k = 0; k < knobs->count; k++)
        knobs->at[k].at = found[k];
}

/* Of two fronts shifted against each other, each a step back, as long as that holds; what holds of one step need not of another. */
static void turn_fronts_back(struct dwi_search *search, struct dwi_knob *knob)
{
    int *shifts = knob->fronts.shifts;
    for (size_t low = 0; low < knob->fronts.count; low++)
        for (size_t high = 0; high < knob->fronts.count; high++)
            while (shifts[low] < 0 && shifts[high] > 0) {
                shifts[low]++;
                shifts[high]--;
                if (dwi_holds(search))
                    continue;
                shifts[low]--;
                shifts[high]++;
                break;
            }
    bool shifted = false;
    for (size_t d = 0; d < knob->fronts.count; d++)
        shifted = shifted || shifts[d] != 0;
    knob->at = shifted ? 1 : 0;
}

void dwi_turn_back(struct dwi_search *search)
{
    struct dwi_knobs *knobs = &search->knobs;
    for (size_t k = 0; k < knobs->count; k++)
        if (knobs->at[k].kind == DWI_FRONTS && knobs->at[k].at > 0)
            turn_fronts_back(search, &knobs->at[k]);
    sort_by_distance(knobs);
    const size_t count = number_of_settings(knobs);
    struct settings settings = {.count = 0};
    if (count <= SETTINGS_MOST)
        settings = settings_of(knobs, count, search->arena);
    for (size_t k = 0; k < knobs->count; k++)
        if (is_turned(&knobs->at[k]))
            turn_back(search, &knobs->at[k]);
    for (size_t k = 0; k < knobs->count; k++)
        if (is_turned(&knobs->at[k]))
            turn_back_part(search, &knobs->at[k]);
    if (settings.count > 0)
        look_nearer(search, &settings);
}
