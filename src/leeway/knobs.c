/* knobs.c - which sizes may give, and between what values.
 *
 *     box height      down by what the job or drawer allows, or as far as the shop's habits do (front or framed space less box_less_most)
 *     slide length    to shorter ones on offer
 *     groove          of a bottom slid in, higher: the back stands on it
 *     overlay         of all fronts of a case alike
 *     fronts          of a bank (front_shares.c)
 *     listed parts    only when it is asked what almost saved a sheet, like sizes that were told
 *
 * Drawers whose preferred size, materials and slide are alike share one knob, so that what is alike stays alike: over all jobs, or within a bank,
 * or not at all, as told.
 */
#include "knobs.h"

#include <string.h>

#include <drawerwright/memory.h>

enum { VALUES_MOST = 64, HABIT_STEPS = 2 };

/* True when the path is, or lies below, one that is to be kept. */
static bool is_kept(const struct dw_leeway_options *options, const char *path)
{
    for (size_t i = 0; i < options->keep_count; i++) {
        const size_t length = strlen(options->keep[i]);
        if (strncmp(options->keep[i], path, length) == 0 && (path[length] == '\0' || path[length] == '/'))
            return true;
    }
    return false;
}

static dw_length front_step(const struct dw_job *job)
{
    return dw_most(job->shop.habits.front_step, 1);
}

static dw_length change_of(const struct dwi_knob *knob, size_t at)
{
    const dw_length change = knob->values[at] - knob->values[0];
    dw_length sum = 0;
    if (knob->kind != DWI_FRONTS)
        return change < 0 ? -change : change;
    for (size_t d = 0; at > 0 && d < knob->fronts.count; d++)
        sum += (knob->fronts.shifts[d] < 0 ? -knob->fronts.shifts[d] : knob->fronts.shifts[d]) * knob->fronts.step;
    return sum;
}

dw_length dwi_knob_distance(const struct dwi_knob *knob, size_t at)
{
    const dw_length change = change_of(knob, at);
    dw_length sum = 0;
    for (size_t i = 0; i < knob->member_count; i++)
        sum += knob->members[i].count * change;
    return sum;
}

dw_money dwi_knobs_price(const struct dwi_knobs *knobs)
{
    dw_money sum = 0;
    for (size_t k = 0; k < knobs->count; k++)
        sum += knobs->at[k].prices != NULL ? knobs->at[k].prices[knobs->at[k].at] : 0;
    return sum;
}

struct dwi_setting dwi_setting_save(const struct dwi_knobs *knobs, struct dw_arena *arena)
{
    struct dwi_setting setting = {.at = dw_arena_alloc(arena, knobs->count, sizeof *setting.at),
                                  .shifts = dw_arena_alloc(arena, knobs->count, sizeof *setting.shifts)};
    for (size_t k = 0; k < knobs->count; k++) {
        const struct dwi_knob *knob = &knobs->at[k];
        setting.at[k] = knob->at;
        setting.shifts[k] = dw_arena_copy(arena, knob->fronts.shifts, knob->fronts.count, sizeof(int));
    }
    return setting;
}

void dwi_setting_restore(struct dwi_knobs *knobs, const struct dwi_setting *setting)
{
    for (size_t k = 0; k < knobs->count; k++) {
        knobs->at[k].at = setting->at[k];
        for (size_t d = 0; d < knobs->at[k].fronts.count; d++)
            knobs->at[k].fronts.shifts[d] = setting->shifts[k][d];
    }
}

/* ---- values -------------------------------------------------------------------------------------------------- */

/* The lowest height that this box may take; its own when there is no room. */
static dw_length lowest_box(const struct dw_job *job, const struct dw_sized_drawer *drawer, const struct dw_leeway_options *options)
{
    const struct dw_box *box = &drawer->drawer->box;
    const struct dw_habits *habits = &job->shop.habits;
    const dw_length height = drawer->box_height.value;
    dw_length lowest = height;
    if (drawer->drawer->front.kind == DW_FRONT_IS_BOX_FRONT)
        return height;
    if (options->near > 0)
        lowest = height - options->near;
    else if (box->leeway.lower != DW_LENGTH_UNSET)
        lowest = height - box->leeway.lower;
    else if (options->habits && habits->leeway.box_heights && box->height == DW_LENGTH_UNSET)
        lowest = dw_least(drawer->front_height.value, drawer->space.height) - habits->box_less_most;
    if (box->height_least != DW_LENGTH_UNSET)
        lowest = dw_most(lowest, box->height_least);
    return dw_least(lowest, height);
}

/* From the preferred one down to the lowest, in multiples of the step. */
static const dw_length *falling(struct dw_arena *arena, dw_length preferred, dw_length lowest, dw_length step, size_t *count)
{
    dw_length *values = dw_arena_alloc(arena, VALUES_MOST, sizeof *values);
    *count = 0;
    for (dw_length value = preferred; (value == preferred || value >= lowest) && value > 0 && *count < VALUES_MOST;) {
        values[(*count)++] = value;
        value = dw_round_down(value - 1, step);
    }
    return values;
}

static const dw_length *rising(struct dw_arena *arena, dw_length from, dw_length most, dw_length step, size_t *count)
{
    dw_length *values = dw_arena_alloc(arena, VALUES_MOST, sizeof *values);
    *count = 0;
    for (dw_length value = from; value <= most && *count < VALUES_MOST; value += step)
        values[(*count)++] = value;
    return values;
}

/* The wished slide and shorter ones on offer, at most so many. */
static const dw_length *slides(struct dw_arena *arena, const struct dw_slide *slide, dw_length preferred, int64_t shorter, size_t *count)
{
    dw_length *values = dw_arena_alloc(arena, (size_t)shorter + 1, sizeof *values);
    values[0] = preferred;
    *count = 1;
    for (size_t i = slide->length_count; i-- > 0 && (int64_t)*count <= shorter;)
        if (slide->lengths[i].length < preferred)
            values[(*count)++] = slide->lengths[i].length;
    return values;
}

/* ---- gathering ------------------------------------------------------------------------------------------------ */

struct finding {
    const struct dw_sizing *const *sizings;
    const struct dw_leeway_options *options;
    struct dw_arena *arena;
    struct dwi_knobs knobs;
};

static const struct dw_drawer *drawer_of(const struct finding *finding, const struct dwi_member *member)
{
    return finding->sizings[member->job]->cases[member->case_index].banks[member->bank_index].drawers[member->drawer_index].drawer;
}

static bool same_box(const struct dw_drawer *a, const struct dw_drawer *b)
{
    return a->slide == b->slide && a->box.side_material == b->box.side_material && a->box.front_material == b->box.front_material &&
           a->box.back_material == b->box.back_material && a->box.bottom_material == b->box.bottom_material &&
           a->box.leeway.alike == b->box.leeway.alike;
}

static bool same_bank(const struct dwi_member *a, const struct dwi_member *b)
{
    return a->job == b->job && a->case_index == b->case_index && a->bank_index == b->bank_index;
}

/* Do these two boxes of one size have to stay alike? */
static bool stay_alike(const struct finding *finding, const struct dwi_member *a, const struct dwi_member *b)
{
    const struct dw_drawer *drawer = drawer_of(finding, a);
    if (!same_box(drawer, drawer_of(finding, b)) || drawer->box.leeway.alike == DW_ALIKE_DRAWER)
        return false;
    return drawer->box.leeway.alike != DW_ALIKE_BANK || same_bank(a, b);
}

static const struct dw_extra *listed(const struct finding *finding, const struct dwi_member *member)
{
    return &finding->sizings[member->job]->job->extras[member->drawer_index];
}

/* Does this knob turn that member's size too? */
static bool shares(const struct finding *finding, const struct dwi_knob *knob, enum dwi_knob_kind kind, dw_length preferred,
                   const struct dwi_member *member)
{
    if (knob->kind != kind || knob->values[0] != preferred)
        return false;
    if (kind == DWI_LISTED_LENGTH || kind == DWI_LISTED_WIDTH)
        return listed(finding, &knob->members[0])->material == listed(finding, member)->material;
    if (kind == DWI_OVERLAY)
        return knob->members[0].job == member->job && knob->members[0].case_index == member->case_index;
    return stay_alike(finding, &knob->members[0], member);
}

static struct dwi_knob *add_knob(struct finding *finding, const struct dwi_knob *knob)
{
    struct dwi_knobs *knobs = &finding->knobs;
    knobs->at = dw_arena_grow(finding->arena, knobs->at, knobs->count, &knobs->capacity, sizeof *knobs->at);
    knobs->at[knobs->count] = *knob;
    return &knobs->at[knobs->count++];
}

static void join(struct finding *finding, struct dwi_knob *knob, const struct dwi_member *member)
{
    knob->members = dw_arena_grow(finding->arena, knob->members, knob->member_count, &knob->member_capacity, sizeof *knob->members);
    knob->members[knob->member_count++] = *member;
}

/* A group is held to the room of the one that has least. */
static void add_member(struct finding *finding, enum dwi_knob_kind kind, const dw_length *values, size_t count, const struct dwi_member *member)
{
    struct dwi_knob *knob = NULL;
    for (size_t i = 0; i < finding->knobs.count && knob == NULL; i++)
        if (shares(finding, &finding->knobs.at[i], kind, values[0], member))
            knob = &finding->knobs.at[i];
    if (knob == NULL)
        knob = add_knob(finding, &(struct dwi_knob){.kind = kind, .values = values, .value_count = count});
    if (count < knob->value_count) {
        knob->value_count = count;
        knob->values = values;
    }
    join(finding, knob, member);
}

static void add_slide(struct finding *finding, const struct dw_sizing *sizing, const struct dw_sized_drawer *drawer, const struct dwi_member *member)
{
    const struct dw_box *box = &drawer->drawer->box;
    const bool told = box->slide_length != DW_LENGTH_UNSET || box->depth != DW_LENGTH_UNSET;
    const int64_t by_habit = finding->options->habits && sizing->job->shop.habits.leeway.slide_lengths && !told ? 1 : 0;
    const int64_t shorter = box->leeway.shorter != DW_UNSET ? box->leeway.shorter : by_habit;
    size_t count = 0;
    if (shorter == 0 || box->depth != DW_LENGTH_UNSET || drawer->slide_length.step_count == 0 || drawer->slide == DW_NO_INDEX)
        return;
    const dw_length *values = slides(finding->arena, &sizing->job->shop.slides[drawer->slide], drawer->slide_length.value, shorter, &count);
    add_member(finding, DWI_SLIDE_LENGTH, values, count, member);
}

static void add_groove(struct finding *finding, const struct dw_sizing *sizing, const struct dw_sized_drawer *drawer, const struct dwi_member *member)
{
    const struct dw_box *box = &drawer->drawer->box;
    const dw_length step = front_step(sizing->job);
    const dw_length by_habit = finding->options->habits && sizing->job->shop.habits.leeway.grooves ? HABIT_STEPS * step : 0;
    const dw_length higher = box->leeway.groove_higher != DW_LENGTH_UNSET ? box->leeway.groove_higher : by_habit;
    size_t count = 0;
    if (box->bottom != DW_BOTTOM_SLID_IN || sizing->job->shop.slides[drawer->drawer->slide].kind == DW_UNDERMOUNT)
        return;
    const dw_length *values = rising(finding->arena, box->groove_up, box->groove_up + higher, step, &count);
    add_member(finding, DWI_GROOVE_HEIGHT, values, count, member);
}

static void add_overlay(struct finding *finding, const struct dw_sizing *sizing, const struct dw_sized_drawer *drawer, const struct dwi_member *member)
{
    const struct dw_fit *fit = &drawer->drawer->fit;
    const dw_length step = front_step(sizing->job);
    const dw_length by_habit = finding->options->habits && sizing->job->shop.habits.leeway.overlays ? step : 0;
    dw_length less = fit->leeway != DW_LENGTH_UNSET ? fit->leeway : by_habit;
    size_t count = 0;
    if (fit->kind != DW_OVERLAY && fit->kind != DW_LIPPED)
        return;
    for (int edge = 0; edge < DW_EDGES; edge++)
        less = dw_least(less, fit->overlay[edge]);
    const dw_length *values = rising(finding->arena, 0, less, step, &count);
    add_member(finding, DWI_OVERLAY, values, count, member);
}

static void add_drawer(struct finding *finding, const struct dw_sizing *sizing, const struct dw_sized_drawer *drawer, const struct dwi_member *member)
{
    const struct dw_job *job = sizing->job;
    const dw_length told = drawer->drawer->box.leeway.step;
    size_t count = 0;
    if (drawer->box_height.step_count == 0 || is_kept(finding->options, drawer->path))
        return;
    const dw_length step = finding->options->near == 0 && told != DW_LENGTH_UNSET ? told : front_step(job);
    const dw_length *values = falling(finding->arena, drawer->box_height.value, lowest_box(job, drawer, finding->options), step, &count);
    add_member(finding, DWI_BOX_HEIGHT, values, count, member);
    if (finding->options->near > 0)
        return;
    add_slide(finding, sizing, drawer, member);
    add_groove(finding, sizing, drawer, member);
}

/* The knob of fronts in the same case that are all like these; NULL. */
static struct dwi_knob *like_fronts(struct finding *finding, const struct dwi_fronts *fronts, const struct dwi_member *member)
{
    for (size_t i = 0; i < finding->knobs.count; i++) {
        struct dwi_knob *knob = &finding->knobs.at[i];
        if (knob->kind == DWI_FRONTS && knob->members[0].job == member->job && knob->members[0].case_index == member->case_index &&
            dwi_fronts_alike(&knob->fronts, fronts))
            return knob;
    }
    return NULL;
}

/* Fronts that give together; a drawer that is to be kept keeps them all. */
static void add_bank(struct finding *finding, const struct dw_sizing *sizing, const struct dw_sized_bank *bank, const struct dwi_member *member)
{
    const dw_length by_habit =
        finding->options->habits && sizing->job->shop.habits.leeway.fronts ? HABIT_STEPS * front_step(sizing->job) : 0;
    const dw_length most = bank->bank->leeway != DW_LENGTH_UNSET ? bank->bank->leeway : by_habit;
    for (size_t d = 0; d < bank->drawer_count; d++)
        if (is_kept(finding->options, bank->drawers[d].path))
            return;
    struct dwi_knob fresh = dwi_knob_of_fronts(sizing, bank, most, finding->arena);
    if (fresh.value_count < 2)
        return;
    struct dwi_member whole = *member;
    whole.path = bank->path;
    struct dwi_knob *knob = like_fronts(finding, &fresh.fronts, member);
    join(finding, knob != NULL ? knob : add_knob(finding, &fresh), &whole);
}

static void add_case(struct finding *finding, size_t job, size_t index)
{
    const struct dw_sizing *sizing = finding->sizings[job];
    const struct dw_sized_case *sized = &sizing->cases[index];
    bool kept = finding->options->near > 0;
    for (size_t b = 0; b < sized->bank_count; b++)
        for (size_t d = 0; d < sized->banks[b].drawer_count; d++)
            kept = kept || is_kept(finding->options, sized->banks[b].drawers[d].path);
    for (size_t b = 0; b < sized->bank_count; b++) {
        struct dwi_member member = {.job = job, .case_index = index, .bank_index = b, .count = sized->source->count};
        if (finding->options->near == 0)
            add_bank(finding, sizing, &sized->banks[b], &member);
        for (size_t d = 0; d < sized->banks[b].drawer_count; d++) {
            const struct dw_sized_drawer *drawer = &sized->banks[b].drawers[d];
            member.drawer_index = d;
            member.path = drawer->path;
            add_drawer(finding, sizing, drawer, &member);
            if (!kept)
                add_overlay(finding, sizing, drawer, &member);
        }
    }
}

static void add_listed(struct finding *finding, size_t job)
{
    const struct dw_job *asked = finding->sizings[job]->job;
    for (size_t i = 0; i < asked->extra_count; i++) {
        const struct dw_extra *extra = &asked->extras[i];
        const struct dwi_member member = {.job = job, .drawer_index = i, .path = extra->name, .count = extra->count};
        size_t count = 0;
        if (is_kept(finding->options, extra->name))
            continue;
        const dw_length *lengths = falling(finding->arena, extra->length, extra->length - finding->options->near, front_step(asked), &count);
        add_member(finding, DWI_LISTED_LENGTH, lengths, count, &member);
        const dw_length *widths = falling(finding->arena, extra->width, extra->width - finding->options->near, front_step(asked), &count);
        add_member(finding, DWI_LISTED_WIDTH, widths, count, &member);
    }
}

static dw_money price_of_length(const struct dw_slide *slide, dw_length length)
{
    for (size_t i = 0; i < slide->length_count; i++)
        if (slide->lengths[i].length == length)
            return slide->lengths[i].price;
    return 0;
}

/* What the slides of a knob cost more at each value. Where the job itself lets slides get shorter what they cost less counts too; by habit a slide
 * gets shorter for the sake of sheets only. */
static void price_slides(struct finding *finding, struct dwi_knob *knob)
{
    dw_money *prices = dw_arena_alloc(finding->arena, knob->value_count, sizeof *prices);
    dw_money *slides = dw_arena_alloc(finding->arena, knob->value_count, sizeof *slides);
    bool differ = false;
    for (size_t v = 1; v < knob->value_count; v++) {
        for (size_t i = 0; i < knob->member_count; i++) {
            const struct dwi_member *member = &knob->members[i];
            const struct dw_drawer *drawer = drawer_of(finding, member);
            const struct dw_slide *slide = &finding->sizings[member->job]->job->shop.slides[drawer->slide];
            const dw_money more = price_of_length(slide, knob->values[v]) - price_of_length(slide, knob->values[0]);
            slides[v] += member->count * more;
            prices[v] += member->count * (drawer->box.leeway.shorter == DW_UNSET ? dw_most(more, 0) : more);
        }
        differ = differ || prices[v] != 0;
    }
    knob->prices = differ ? prices : NULL;
    knob->slides = slides;
}

/* Knobs with one value only are no knobs. */
static void drop_fixed(struct dwi_knobs *knobs)
{
    size_t kept = 0;
    for (size_t i = 0; i < knobs->count; i++)
        if (knobs->at[i].value_count > 1)
            knobs->at[kept++] = knobs->at[i];
    knobs->count = kept;
}

struct dwi_knobs dwi_knobs_find(const struct dw_sizing *const *sizings, size_t job_count, const struct dw_leeway_options *options,
                                struct dw_arena *arena)
{
    struct finding finding = {.sizings = sizings, .options = options, .arena = arena};
    for (size_t j = 0; j < job_count; j++) {
        for (size_t c = 0; c < sizings[j]->case_count; c++)
            add_case(&finding, j, c);
        if (options->near > 0)
            add_listed(&finding, j);
    }
    drop_fixed(&finding.knobs);
    for (size_t k = 0; k < finding.knobs.count; k++)
        if (finding.knobs.at[k].kind == DWI_SLIDE_LENGTH)
            price_slides(&finding, &finding.knobs.at[k]);
    return finding.knobs;
}

/* ---- what a job says itself ---- */

static bool drawer_gives(const struct dw_drawer *drawer)
{
    const struct dw_box_leeway *box = &drawer->box.leeway;
    const bool gives = (box->lower != DW_LENGTH_UNSET && box->lower > 0) || (box->shorter != DW_UNSET && box->shorter > 0) ||
                       (box->groove_higher != DW_LENGTH_UNSET && box->groove_higher > 0);
    return drawer->fill == DW_FILL_DRAWER && (gives || (drawer->fit.leeway != DW_LENGTH_UNSET && drawer->fit.leeway > 0));
}

static bool bank_gives(const struct dw_bank *bank)
{
    bool gives = bank->leeway != DW_LENGTH_UNSET && bank->leeway > 0;
    for (size_t d = 0; d < bank->drawer_count; d++)
        gives = gives || drawer_gives(&bank->drawers[d]);
    return gives;
}

bool dw_leeway_is_told(const struct dw_job *job)
{
    for (size_t c = 0; c < job->case_count; c++)
        for (size_t b = 0; b < job->cases[c].bank_count; b++)
            if (bank_gives(&job->cases[c].banks[b]))
                return true;
    return false;
}
