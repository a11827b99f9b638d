/* case.c - from a case's outside and members to its openings, or the other way round, and the banks side by side.
 *
 * A size that was measured at the opening always counts; the outside is figured from it, unless it is given: then the
 * readings are those of the case as it came out, and what they differ from the drawing by is a step of the figuring. Widths of banks are fixed
 * or share the rest of the opening by weight; whole units left over by the sharing go to the last banks, so that
 * banks and partitions always add up to the opening.
 */
#include "sizer.h"

#include <drawerwright/address.h>
#include <drawerwright/memory.h>

/* Thickness seen from the front of the member at each outer edge: sides or stiles, top and bottom or rails. */
static dw_length outer_member(const struct dw_case *source, enum dw_edge edge)
{
    const bool frame = source->style == DW_FACE_FRAME;
    switch (edge) {
    case DW_TOP:
        return frame ? source->rail_top : source->top;
    case DW_BOTTOM:
        return frame ? source->rail_bottom : source->bottom;
    case DW_LEFT:
    case DW_RIGHT:
    case DW_EDGES:
        break;
    }
    return frame ? source->stile : source->side;
}

dw_length dwi_case_member(const struct dw_case *source, enum dw_edge edge)
{
    const dw_length member = outer_member(source, edge);
    return member == DW_LENGTH_UNSET ? 0 : member;
}

static dw_length known(dw_length length)
{
    return length == DW_LENGTH_UNSET ? 0 : length;
}

dw_length dwi_case_hinge_room(const struct dw_case *source, size_t bank_index, int right)
{
    const bool outer = right ? bank_index + 1 == source->bank_count : bank_index == 0;
    return source->behind_doors && outer ? known(source->hinge_room) : 0;
}

dw_length dwi_case_packing(const struct dw_case *source, size_t bank_index, int right)
{
    const dw_length hinges = dwi_case_hinge_room(source, bank_index, right);
    if (source->style != DW_FACE_FRAME)
        return hinges;
    const bool outer = right ? bank_index + 1 == source->bank_count : bank_index == 0;
    const dw_length behind = known(outer ? source->side : source->partition_behind);
    if (behind == 0)
        return hinges;
    const dw_length pack = outer ? known(source->stile) - behind : (known(source->partition) - behind) / 2;
    return hinges + dw_most(pack, 0);
}

/* A size as given at the opening itself. */
static struct dw_figure as_read(const struct dwi_sizer *sizer, const char *name, struct dw_readings readings)
{
    const char *words = readings.count == 1 ? dw_arena_format(sizer->arena, "%s as given", name)
                                            : dw_arena_format(sizer->arena, "%s, the least of %zu readings", name, readings.count);
    return dwi_figure_given(sizer->arena, name, words, dw_readings_least(readings));
}

/* From the drawing, and where the case stands and was measured, from there to what was read. */
static struct dw_figure as_built(const struct dwi_sizer *sizer, const struct dw_sized_case *sized, struct dwi_figuring *drawn, struct dw_readings readings)
{
    const dw_length far_off = DW_INCH / 2; /* more is no workmanship but a slip of tape or pen: common practice, no source */
    const dw_length off = readings.count == 0 ? 0 : dw_readings_least(readings) - drawn->value;
    const char *least = readings.count == 1 ? "" : dw_arena_format(sizer->arena, ", the least of %zu readings", readings.count);
    if (off > far_off || off < -far_off)
        dw_warn(sizer->faults, "far-from-drawn", sized->address,
                "%s: measured %s, and by the case's outside and members it would be %s\nmeasure again, or correct the drawing", drawn->name,
                dwi_show(sizer, dw_readings_least(readings)), dwi_show(sizer, drawn->value));
    if (off > 0)
        dwi_figure_add(drawn, dw_arena_format(sizer->arena, "more than drawn, as measured%s", least), off);
    else if (off < 0)
        dwi_figure_subtract(drawn, dw_arena_format(sizer->arena, "less than drawn, as measured%s", least), -off);
    return dwi_figure_done(drawn);
}

static struct dw_figure width_of_opening(const struct dwi_sizer *sizer, const struct dw_sized_case *sized)
{
    const struct dw_case *source = sized->source;
    if (source->width == DW_LENGTH_UNSET && source->opening_width.count > 0)
        return as_read(sizer, "opening width", source->opening_width);
    if (source->width == DW_LENGTH_UNSET)
        return (struct dw_figure){.name = "opening width", .value = DW_LENGTH_UNSET};
    const char *words = source->style == DW_FACE_FRAME ? "less two stiles" : "less two sides";
    struct dwi_figuring figuring = dwi_figure_start(sizer->arena, "opening width", "outside width of the case", source->width);
    dwi_figure_subtract(&figuring, words, 2 * dwi_case_member(source, DW_LEFT));
    return as_built(sizer, sized, &figuring, source->opening_width);
}

static struct dw_figure height_of_opening(const struct dwi_sizer *sizer, const struct dw_sized_case *sized)
{
    const struct dw_case *source = sized->source;
    if (source->height == DW_LENGTH_UNSET && source->opening_height.count > 0)
        return as_read(sizer, "opening height", source->opening_height);
    if (source->height == DW_LENGTH_UNSET)
        return (struct dw_figure){.name = "opening height", .value = DW_LENGTH_UNSET};
    const bool frame = source->style == DW_FACE_FRAME;
    struct dwi_figuring figuring = dwi_figure_start(sizer->arena, "opening height", "outside height of the case", source->height);
    dwi_figure_subtract(&figuring, "less the kick", known(source->kick));
    dwi_figure_subtract(&figuring, frame ? "less the bottom rail" : "less the bottom", dwi_case_member(source, DW_BOTTOM));
    dwi_figure_subtract(&figuring, frame ? "less the top rail" : "less the top", dwi_case_member(source, DW_TOP));
    return as_built(sizer, sized, &figuring, source->opening_height);
}

static struct dw_figure depth_of_opening(const struct dwi_sizer *sizer, const struct dw_sized_case *sized)
{
    const struct dw_case *source = sized->source;
    if (source->depth == DW_LENGTH_UNSET && source->opening_depth.count > 0)
        return as_read(sizer, "inside depth", source->opening_depth);
    if (source->depth == DW_LENGTH_UNSET)
        return (struct dw_figure){.name = "inside depth", .value = DW_LENGTH_UNSET};
    struct dwi_figuring figuring = dwi_figure_start(sizer->arena, "inside depth", "outside depth of the case", source->depth);
    dwi_figure_subtract(&figuring, "less the back", known(source->back));
    return as_built(sizer, sized, &figuring, source->opening_depth);
}

/* ---- banks side by side ------------------------------------------------------------------------------------ */

/* What the widths of a case's banks share. */
struct split {
    dw_length partitions; /* all of them */
    dw_length fixed;      /* width of the banks that have their own */
    int64_t weights;      /* of the others */
    size_t shares;        /* how many others */
};

static struct split split_of(const struct dw_case *source)
{
    struct split split = {0};
    if (source->bank_count > 1)
        split.partitions = (dw_length)(source->bank_count - 1) * known(source->partition);
    for (size_t i = 0; i < source->bank_count; i++) {
        if (source->banks[i].width.count > 0) {
            split.fixed += dw_readings_least(source->banks[i].width);
        } else {
            split.weights += source->banks[i].width_share;
            split.shares++;
        }
    }
    return split;
}

/* The opening that banks of fixed width make together. */
static struct dw_figure width_of_banks(const struct dwi_sizer *sizer, struct split split)
{
    struct dwi_figuring figuring = dwi_figure_start(sizer->arena, "opening width", "widths of the banks", split.fixed);
    dwi_figure_add(&figuring, "partitions between them", split.partitions);
    return dwi_figure_done(&figuring);
}

/* Fixed banks must fill the opening. Readings of a case that stands may disagree with its drawing: then it is a warning. */
static bool banks_fill(const struct dwi_sizer *sizer, const struct dw_sized_case *sized, dw_length rest, struct split split)
{
    if (split.shares > 0 ? rest > 0 : rest == 0)
        return true;
    const char *by = dwi_show(sizer, rest < 0 ? -rest : rest);
    if (rest > 0) {
        bool measured = false;
        for (size_t i = 0; i < sized->source->bank_count; i++)
            measured = measured || sized->source->banks[i].width.count > 1;
        if (measured) {
            dw_warn(sizer->faults, "banks-under", sized->address, "the banks as measured are %s narrower together than the opening\n"
                    "check the partitions; the rest is left at the right", by);
            return true;
        }
        dw_error(sizer->faults, DW_IMPOSSIBLE, "banks-under", sized->address,
                 "the banks leave %s of the opening to nobody\nlet one bank share the width, or widen them by %s altogether", by, by);
        return false;
    }
    if (rest == 0)
        dw_error(sizer->faults, DW_IMPOSSIBLE, "banks-over", sized->address,
                 "fixed banks and partitions leave no width for %zu more\nmake them narrower", split.shares);
    else
        dw_error(sizer->faults, DW_IMPOSSIBLE, "banks-over", sized->address,
                 "banks and partitions are %s wider than the opening\nmake them narrower by %s altogether", by, by);
    return false;
}

/* The width of one bank's opening: its own, or its share of `whole`. */
static struct dw_figure width_of_bank(const struct dwi_sizer *sizer, const struct dw_sized_case *sized, size_t index,
                                      const struct dw_figure *whole, struct split split)
{
    const struct dw_case *source = sized->source;
    const struct dw_bank *bank = &source->banks[index];
    if (bank->width.count > 0)
        return as_read(sizer, "opening width", bank->width);
    struct dwi_figuring figuring = dwi_figure_copy(sizer->arena, "opening width", whole);
    dwi_figure_subtract(&figuring, "less the partitions", split.partitions);
    dwi_figure_subtract(&figuring, "less the banks of fixed width", split.fixed);
    dwi_figure_times(&figuring, dw_arena_format(sizer->arena, "its share: %lld of %lld", (long long)bank->width_share,
                                                (long long)split.weights), bank->width_share, split.weights);
    return dwi_figure_done(&figuring);
}

/* Whole units that the shares lost to rounding, one each to the last of them. */
static void give_odd_units(const struct dwi_sizer *sizer, struct dw_sized_case *sized, dw_length rest)
{
    for (size_t i = 0; i < sized->bank_count; i++)
        if (sized->source->banks[i].width.count == 0)
            rest -= sized->banks[i].opening_width.value;
    for (size_t i = sized->bank_count; i-- > 0 && rest > 0;) {
        if (sized->source->banks[i].width.count > 0)
            continue;
        struct dw_figure *width = &sized->banks[i].opening_width;
        struct dwi_figuring figuring = dwi_figure_copy(sizer->arena, width->name, width);
        dwi_figure_add(&figuring, "a sixteenth of a micrometer left over by the sharing", 1);
        *width = dwi_figure_done(&figuring);
        rest--;
    }
}

/* Members must leave an opening. */
static bool is_open(const struct dwi_sizer *sizer, const char *address, dw_length size, const char *way)
{
    if (size <= 0)
        dw_error(sizer->faults, DW_IMPOSSIBLE, "no-opening", address,
                 "the members leave an opening %s %s\nmake the case larger or its members thinner", dwi_show(sizer, size), way);
    return size > 0;
}

static bool widths(const struct dwi_sizer *sizer, struct dw_sized_case *sized)
{
    const struct dw_case *source = sized->source;
    const struct split split = split_of(source);
    struct dw_figure whole = width_of_opening(sizer, sized);
    if (whole.value == DW_LENGTH_UNSET && split.shares == 0)
        whole = width_of_banks(sizer, split);
    if (whole.value == DW_LENGTH_UNSET) {
        dw_error(sizer->faults, DW_INPUT, "no-width", sized->address,
                 "the width of the opening is not known\ngive the case's width, its opening's, or one for each bank");
        return false;
    }
    sized->opening.width = whole.value;
    if (!is_open(sizer, sized->address, whole.value, "wide"))
        return false;
    const dw_length rest = whole.value - split.partitions - split.fixed;
    if (!banks_fill(sizer, sized, rest, split))
        return false;
    for (size_t i = 0; i < sized->bank_count; i++)
        sized->banks[i].opening_width = width_of_bank(sizer, sized, i, &whole, split);
    if (split.shares > 0)
        give_odd_units(sizer, sized, rest);
    return true;
}

/* ---- heights, depths, outside ------------------------------------------------------------------------------ */

static bool heights(const struct dwi_sizer *sizer, struct dw_sized_case *sized)
{
    const struct dw_figure whole = height_of_opening(sizer, sized);
    bool sure = true;
    for (size_t i = 0; i < sized->bank_count; i++) {
        struct dw_sized_bank *bank = &sized->banks[i];
        bank->opening_height = bank->bank->height.count > 0 ? as_read(sizer, "opening height", bank->bank->height) : whole;
        if (bank->opening_height.value == DW_LENGTH_UNSET) {
            dw_error(sizer->faults, DW_INPUT, "no-height", bank->address,
                     "the height of the opening is not known\ngive the case's height or the opening's");
            sure = false;
            continue;
        }
        sure = is_open(sizer, bank->address, bank->opening_height.value, "high") && sure;
        sized->opening.height = dw_most(sized->opening.height, bank->opening_height.value);
    }
    return sure;
}

static void depths(const struct dwi_sizer *sizer, struct dw_sized_case *sized)
{
    const struct dw_figure whole = depth_of_opening(sizer, sized);
    sized->inside_depth = whole.value;
    for (size_t i = 0; i < sized->bank_count; i++) {
        struct dw_sized_bank *bank = &sized->banks[i];
        bank->opening_depth = bank->bank->depth.count > 0 ? as_read(sizer, "inside depth", bank->bank->depth) : whole;
    }
}

/* The outside, from the drawing or round the opening; and where the opening lies in it. */
static void outside(struct dw_sized_case *sized)
{
    const struct dw_case *source = sized->source;
    const dw_length side = dwi_case_member(source, DW_LEFT);
    const dw_length top = dwi_case_member(source, DW_TOP);
    const dw_length bottom = dwi_case_member(source, DW_BOTTOM);
    sized->opening.x = side;
    sized->opening.y = source->height == DW_LENGTH_UNSET && source->floor != DW_LENGTH_UNSET ? source->floor
                                                                                          : known(source->kick) + bottom;
    sized->width = source->width != DW_LENGTH_UNSET ? source->width : sized->opening.width + 2 * side;
    sized->height = source->height != DW_LENGTH_UNSET ? source->height : sized->opening.y + sized->opening.height + top;
    sized->depth = source->depth;
    if (source->depth == DW_LENGTH_UNSET && sized->inside_depth != DW_LENGTH_UNSET)
        sized->depth = sized->inside_depth + known(source->back);
    sized->inside_width = sized->width - 2 * known(source->side);
    sized->partition = known(source->partition);
}

static void place_banks(struct dw_sized_case *sized)
{
    dw_length x = sized->opening.x;
    for (size_t i = 0; i < sized->bank_count; i++) {
        struct dw_sized_bank *bank = &sized->banks[i];
        bank->opening = (struct dw_rectangle){x, sized->opening.y, bank->opening_width.value, bank->opening_height.value};
        x += bank->opening.width + sized->partition;
    }
}

/* A name for people: the given one, or the number from 1. */
static const char *name_or_number(struct dw_arena *arena, const char *name, size_t index)
{
    return name != NULL && name[0] != '\0' ? name : dw_arena_format(arena, "%zu", index + 1);
}

static void lay_out_drawers(const struct dwi_sizer *sizer, size_t case_index, size_t bank_index, struct dw_sized_bank *bank)
{
    struct dw_arena *arena = sizer->arena;
    const char *drawers = dw_address_key(arena, bank->address, "drawers");
    bank->drawer_count = bank->bank->drawer_count;
    bank->drawers = dw_arena_alloc(arena, bank->drawer_count, sizeof *bank->drawers);
    for (size_t i = 0; i < bank->drawer_count; i++) {
        const struct dw_drawer *drawer = &bank->bank->drawers[i];
        bank->drawers[i] = (struct dw_sized_drawer){
            .drawer = drawer,
            .address = dw_address_index(arena, drawers, i),
            .path = dw_arena_format(arena, "%s/%s", bank->path, name_or_number(arena, drawer->name, i)),
            .case_index = case_index,
            .bank_index = bank_index,
            .drawer_index = i,
            .gap_below = DW_LENGTH_UNSET,
            .slide = drawer->slide,
        };
    }
}

static void lay_out_banks(const struct dwi_sizer *sizer, size_t case_index, struct dw_sized_case *sized)
{
    struct dw_arena *arena = sizer->arena;
    const char *banks = dw_address_key(arena, sized->address, "banks");
    sized->bank_count = sized->source->bank_count;
    sized->banks = dw_arena_alloc(arena, sized->bank_count, sizeof *sized->banks);
    for (size_t i = 0; i < sized->bank_count; i++) {
        const struct dw_bank *bank = &sized->source->banks[i];
        sized->banks[i] = (struct dw_sized_bank){
            .bank = bank,
            .address = dw_address_index(arena, banks, i),
            .path = dw_arena_format(arena, "%s/%s", sized->path, name_or_number(arena, bank->name, i)),
            .freed = "",
        };
        lay_out_drawers(sizer, case_index, i, &sized->banks[i]);
    }
}

bool dwi_case_open(const struct dwi_sizer *sizer, size_t case_index, struct dw_sized_case *sized)
{
    const struct dw_case *source = &sizer->job->cases[case_index];
    *sized = (struct dw_sized_case){
        .source = source,
        .address = dw_address_index(sizer->arena, "cases", case_index),
        .path = name_or_number(sizer->arena, source->name, case_index),
    };
    lay_out_banks(sizer, case_index, sized);
    const bool wide = widths(sizer, sized);
    const bool high = heights(sizer, sized);
    depths(sizer, sized);
    if (!wide || !high)
        return false;
    outside(sized);
    place_banks(sized);
    return true;
}
