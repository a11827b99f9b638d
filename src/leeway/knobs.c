/* knobs.c - which sizes the rules leave free, and between what values.
 *
 * Box heights: from what the rules gave down to what the habits allow (front or framed space less box_less_most), or to the box's own
 * height_least, in steps of the shop's fronts. Slide lengths: the next shorter one on offer. A size that was told is free only when something
 * that almost saves a sheet is looked for. Drawers whose preferred size, materials and slide are alike share one knob, so that what is alike
 * stays alike.
 */
#include "knobs.h"

#include <string.h>

#include <drawerwright/memory.h>

enum { VALUES_MOST = 48 };

/* True when the drawer is, or lies below, a path that is to be kept. */
static bool is_kept(const struct dw_leeway_options *options, const char *path)
{
    for (size_t i = 0; i < options->keep_count; i++) {
        const size_t length = strlen(options->keep[i]);
        if (strncmp(options->keep[i], path, length) == 0 && (path[length] == '\0' || path[length] == '/'))
            return true;
    }
    return false;
}

static const struct dw_drawer *drawer_of(const struct dw_sizing *const *sizings, const struct dwi_member *member)
{
    return sizings[member->job]->cases[member->case_index].banks[member->bank_index].drawers[member->drawer_index].drawer;
}

static bool same_box(const struct dw_drawer *a, const struct dw_drawer *b)
{
    return a->slide == b->slide && a->box.side_material == b->box.side_material && a->box.front_material == b->box.front_material &&
           a->box.back_material == b->box.back_material && a->box.bottom_material == b->box.bottom_material;
}

/* ---- values -------------------------------------------------------------------------------------------------- */

/* The lowest height the rules allow this box; its own when they leave no room. */
static dw_length lowest_box(const struct dw_sizing *sizing, const struct dw_sized_drawer *drawer, const struct dw_leeway_options *options)
{
    const struct dw_box *box = &drawer->drawer->box;
    const dw_length height = drawer->box_height.value;
    if (options->near > 0)
        return height - options->near;
    if (box->height_least != DW_LENGTH_UNSET)
        return dw_least(box->height_least, height);
    if (box->height != DW_LENGTH_UNSET || drawer->drawer->front.kind == DW_FRONT_IS_BOX_FRONT)
        return height;
    const dw_length reference = dw_least(drawer->front_height.value, drawer->space.height);
    return dw_least(reference - sizing->job->shop.habits.box_less_most, height);
}

static const dw_length *heights(struct dw_arena *arena, dw_length preferred, dw_length lowest, dw_length step, size_t *count)
{
    dw_length *values = dw_arena_alloc(arena, VALUES_MOST, sizeof *values);
    *count = 0;
    for (dw_length value = preferred; value >= lowest && value > 0 && *count < VALUES_MOST;) {
        values[(*count)++] = value;
        value = dw_round_down(value - 1, step);
    }
    return values;
}

/* The wished slide and the next shorter one on offer. */
static const dw_length *slides(struct dw_arena *arena, const struct dw_slide *slide, dw_length preferred, size_t *count)
{
    dw_length *values = dw_arena_alloc(arena, 2, sizeof *values);
    values[0] = preferred;
    *count = 1;
    for (size_t i = slide->length_count; i-- > 0;)
        if (slide->lengths[i].length < preferred) {
            values[1] = slide->lengths[i].length;
            *count = 2;
            break;
        }
    return values;
}

/* ---- gathering ------------------------------------------------------------------------------------------------ */

struct finding {
    const struct dw_sizing *const *sizings;
    const struct dw_leeway_options *options;
    struct dw_arena *arena;
    struct dwi_knobs knobs;
};

/* The knob that a drawer of this preferred size shares, or NULL. */
static struct dwi_knob *shared_knob(struct finding *finding, enum dwi_knob_kind kind, dw_length preferred, const struct dw_drawer *drawer)
{
    for (size_t i = 0; i < finding->knobs.count; i++) {
        struct dwi_knob *knob = &finding->knobs.at[i];
        if (knob->kind == kind && knob->values[0] == preferred && same_box(drawer_of(finding->sizings, &knob->members[0]), drawer))
            return knob;
    }
    return NULL;
}

/* A group is held to the room of the one that has least. */
static void add_member(struct finding *finding, enum dwi_knob_kind kind, const dw_length *values, size_t count, const struct dwi_member *member)
{
    struct dwi_knob *knob = shared_knob(finding, kind, values[0], drawer_of(finding->sizings, member));
    if (knob == NULL) {
        struct dwi_knobs *knobs = &finding->knobs;
        knobs->at = dw_arena_grow(finding->arena, knobs->at, knobs->count, &knobs->capacity, sizeof *knobs->at);
        knob = &knobs->at[knobs->count++];
        *knob = (struct dwi_knob){.kind = kind, .values = values, .value_count = count};
    }
    if (count < knob->value_count)
        knob->value_count = count;
    knob->members = dw_arena_grow(finding->arena, knob->members, knob->member_count, &knob->member_capacity, sizeof *knob->members);
    knob->members[knob->member_count++] = *member;
}

static void add_drawer(struct finding *finding, const struct dw_sizing *sizing, const struct dw_sized_drawer *drawer, const struct dwi_member *member)
{
    size_t count = 0;
    if (drawer->box_height.step_count == 0 || is_kept(finding->options, drawer->path))
        return;
    const dw_length *values = heights(finding->arena, drawer->box_height.value, lowest_box(sizing, drawer, finding->options),
                                      dw_most(sizing->job->shop.habits.front_step, 1), &count);
    add_member(finding, DWI_KNOB_BOX_HEIGHT, values, count, member);
    const bool told = drawer->drawer->box.slide_length != DW_LENGTH_UNSET || drawer->drawer->box.depth != DW_LENGTH_UNSET;
    if (finding->options->near > 0 || told || drawer->slide_length.step_count == 0 || drawer->slide == DW_NO_INDEX)
        return;
    values = slides(finding->arena, &sizing->job->shop.slides[drawer->slide], drawer->slide_length.value, &count);
    add_member(finding, DWI_KNOB_SLIDE_LENGTH, values, count, member);
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
    for (size_t j = 0; j < job_count; j++)
        for (size_t c = 0; c < sizings[j]->case_count; c++)
            for (size_t b = 0; b < sizings[j]->cases[c].bank_count; b++)
                for (size_t d = 0; d < sizings[j]->cases[c].banks[b].drawer_count; d++) {
                    const struct dw_sized_drawer *drawer = &sizings[j]->cases[c].banks[b].drawers[d];
                    const struct dwi_member member = {.job = j, .case_index = c, .bank_index = b, .drawer_index = d, .path = drawer->path};
                    add_drawer(&finding, sizings[j], drawer, &member);
                }
    drop_fixed(&finding.knobs);
    return finding.knobs;
}
