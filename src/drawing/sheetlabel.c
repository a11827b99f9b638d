/* sheetlabel.c - labels on a sheet: each goes into its piece in the largest way that fits, on two lines, on one, or upright. Like pieces that are too small
 * for that and lie side by side share one label, written across them: which of them is which does not matter. What is left is led
 * out (leaders.c) instead of shrunken.
 */
#include "sheetlabel.h"

#include <drawerwright/memory.h>

enum {
    LABEL_AIR = 300,   /* before and behind a label ... */
    MARK_AIR = 120,    /* ... or a mark alone */
    NUMBER_AIR = 1650, /* ... that leaves a circled number room at the end of a cut */
    NUMBER_HIGH = 1400, /* what two halves of a number take over and under a label */
    LINES_AIR = 100,   /* over and under two lines together ... */
    LARGE_AIR = 300    /* ... of LARGE type and over */
};
enum { LARGE = 1000, ROOMY_LEAST = 80 /* percent of the largest type */ };

/* One way to write a label into a piece. */
struct manner {
    dw_dot mark_size, size_size;
    bool two_lines, upright;
};

static const struct manner manners[] = {
    {1700, 1300, true, false},  {1400, 1100, true, false},  {1200, 1000, true, false}, {1000, 1000, true, false}, {1400, 1100, true, true},
    {1200, 1000, true, true},   {1000, 1000, true, true},   {1300, 1200, false, false}, {1100, 1000, false, false}, {1100, 1000, false, true},
    {850, 850, true, false},    {850, 850, true, true},     {850, 850, false, false},  {850, 850, false, true},
    {DWI_TINY, DWI_TINY, false, false}, {DWI_TINY, DWI_TINY, false, true}, /* for a mark alone */
};

static dw_dot line_height(dw_dot size)
{
    return size * (DWI_ASCENT + DWI_DESCENT) / 100;
}

static bool fits(const struct dwi_label *label, const struct manner *manner, dw_dot air)
{
    const dw_dot lines_air = !manner->two_lines ? 40 : manner->mark_size >= LARGE ? LARGE_AIR : LINES_AIR;
    const dw_dot mark = dwi_text_width(label->mark, manner->mark_size, true);
    const dw_dot size = dwi_text_width(label->size, manner->size_size, false);
    const dw_dot between = size == 0 ? 0 : manner->mark_size / 2;
    const dw_dot long_way = manner->two_lines ? (mark > size ? mark : size) : mark + between + size;
    const dw_dot short_way = manner->two_lines ? line_height(manner->mark_size) + line_height(manner->size_size) : line_height(manner->mark_size);
    const dw_dot room_long = manner->upright ? dwi_high(label->at) : dwi_wide(label->at);
    const dw_dot room_short = manner->upright ? dwi_wide(label->at) : dwi_high(label->at);
    return long_way + 2 * air <= room_long && short_way + lines_air <= room_short;
}

/* Sets a text whose middle is `along` and `across` off the middle of the piece, upright or not; along runs in reading direction, across
 * downward from it. */
static void set_at(struct dwi_pad *pad, const struct dwi_label *label, bool upright, dw_dot along, dw_dot across, struct dwi_type type, const char *text)
{
    const dw_dot x = (label->at.x + label->at.x2) / 2;
    const dw_dot y = (label->at.y + label->at.y2) / 2;
    const dw_dot down = across + type.size * (DWI_ASCENT - DWI_DESCENT) / 200;
    type.quarter_turns = upright ? 1 : 0;
    type.within = label->within;
    type.behind = DW_TONE_PAPER;
    dwi_text(pad, upright ? x + down : x + along, upright ? y - along : y + down, type, label->address, text);
}

static void write_label(struct dwi_pad *pad, const struct dwi_label *label, const struct manner *manner)
{
    const struct dwi_type mark = {.size = manner->mark_size, .bold = true, .anchor = DW_ANCHOR_MIDDLE, .as_it_is = true};
    const struct dwi_type size = {.size = manner->size_size, .anchor = DW_ANCHOR_MIDDLE};
    if (manner->two_lines) {
        set_at(pad, label, manner->upright, 0, -line_height(manner->size_size) / 2, mark, label->mark);
        set_at(pad, label, manner->upright, 0, line_height(manner->mark_size) / 2, size, label->size);
        return;
    }
    const dw_dot mark_width = dwi_text_width(label->mark, manner->mark_size, true);
    const dw_dot size_width = dwi_text_width(label->size, manner->size_size, false);
    const dw_dot air = size_width == 0 ? 0 : manner->mark_size / 2;
    set_at(pad, label, manner->upright, -(air + size_width) / 2, 0, mark, label->mark);
    set_at(pad, label, manner->upright, (air + mark_width) / 2, 0, size, label->size);
}

static const struct manner *largest(const struct dwi_label *label, dw_dot air, bool level)
{
    const dw_dot least = label->size[0] == '\0' ? DWI_TINY : DWI_NOTE;
    for (size_t m = 0; m < sizeof manners / sizeof *manners; m++)
        if (manners[m].mark_size >= least && !(level && manners[m].upright) && fits(label, &manners[m], air))
            return &manners[m];
    return NULL;
}

/* Does a label come so near the upper and lower edge that a circled number there has no room over or under it? */
static bool fills_height(const struct dwi_label *label, const struct manner *manner)
{
    const dw_dot lines = line_height(manner->mark_size) + (manner->two_lines ? line_height(manner->size_size) : 0);
    return !manner->upright && dwi_high(label->at) < lines + NUMBER_HIGH;
}

/* The largest that fits, or a level one that leaves room for the number of a cut where it is not much smaller. */
static const struct manner *manner_for(const struct dwi_label *label)
{
    const struct manner *tight = largest(label, label->size[0] == '\0' ? MARK_AIR : LABEL_AIR, false);
    if (tight == NULL || !fills_height(label, tight))
        return tight;
    const struct manner *roomy = largest(label, NUMBER_AIR, true);
    return roomy != NULL && roomy->mark_size * 100 >= tight->mark_size * ROOMY_LEAST ? roomy : tight;
}

/* ---- blocks of like pieces ---------------------------------------------------------------------------------- */

enum { LED_MOST = 16 /* labels that one sheet can lead out and be read */ };
enum { NEAR = 250, FULL = 75 }; /* pieces no farther apart than a kerf belong together; a block is filled by them to so many percent */

static bool near(struct dwi_area a, struct dwi_area b)
{
    return a.x < b.x2 + NEAR && b.x < a.x2 + NEAR && a.y < b.y2 + NEAR && b.y < a.y2 + NEAR;
}

/* What makes neighbors of a block: to lie side by side, in one row, in one column. */
enum kinship { SIDE_BY_SIDE, IN_ROW, IN_COLUMN, KINSHIPS };

static bool are_kin(const struct dwi_label *a, const struct dwi_label *b, enum kinship kinship)
{
    if (a->part == NULL || a->part != b->part || !near(a->at, b->at))
        return false;
    if (kinship == IN_ROW)
        return a->at.y == b->at.y && a->at.y2 == b->at.y2;
    return kinship != IN_COLUMN || (a->at.x == b->at.x && a->at.x2 == b->at.x2);
}

/* The blocks that small labels form: each label's block is named by its first member. */
static size_t *blocks_of(struct dw_arena *arena, const struct dwi_label *const *small, size_t count, enum kinship kinship)
{
    size_t *block = dw_arena_alloc(arena, count, sizeof *block);
    for (size_t i = 0; i < count; i++)
        block[i] = i;
    for (bool changed = true; changed;) {
        changed = false;
        for (size_t i = 0; i < count; i++)
            for (size_t j = 0; j < i; j++)
                if (block[i] != block[j] && are_kin(small[i], small[j], kinship)) {
                    block[i] = block[j] = block[i] < block[j] ? block[i] : block[j];
                    changed = true;
                }
    }
    return block;
}

static int64_t size_of(struct dwi_area area)
{
    return (int64_t)dwi_wide(area) * dwi_high(area);
}

/* How many pieces lie in an area, or reach into it. */
static size_t pieces_in(struct dwi_area area, const struct dwi_label *labels, size_t count)
{
    size_t found = 0;
    for (size_t i = 0; i < count; i++)
        found += dwi_areas_meet(labels[i].at, area) ? 1 : 0;
    return found;
}

struct blocks {
    const struct dwi_label *labels; /* all of the sheet's */
    size_t label_count;
    const struct dwi_label **small;
    size_t count;
    const size_t *block;            /* of each small one */
};

/* One label for the members of a block from the first on; false when they do not fill it, share it with others, or stand alone. */
static bool block_label(struct dw_arena *arena, const struct blocks *blocks, size_t first, struct dwi_label *label)
{
    const struct dwi_label *const *small = blocks->small;
    const struct dwi_label *least = small[first];
    const struct dwi_label *most = small[first];
    size_t members = 0;
    int64_t filled = 0;
    *label = *small[first];
    for (size_t i = first; i < blocks->count; i++) {
        if (blocks->block[i] != blocks->block[first])
            continue;
        const struct dwi_area at = small[i]->at;
        label->at = (struct dwi_area){at.x < label->at.x ? at.x : label->at.x, at.y < label->at.y ? at.y : label->at.y,
                                      at.x2 > label->at.x2 ? at.x2 : label->at.x2, at.y2 > label->at.y2 ? at.y2 : label->at.y2};
        least = small[i]->number < least->number ? small[i] : least;
        most = small[i]->number > most->number ? small[i] : most;
        filled += size_of(at);
        members++;
    }
    if (members < 2 || filled * 100 < size_of(label->at) * FULL || pieces_in(label->at, blocks->labels, blocks->label_count) != members)
        return false;
    label->within = 0;
    label->mark = dw_arena_format(arena, "%s%s \xE2\x80\xA6 %s", most->number - least->number + 1 == members ? "" : "of ", least->mark, most->mark);
    label->size = dw_arena_format(arena, "%zu of %s", members, small[first]->size);
    return true;
}

/* The labels that do not fit. */
static size_t collect_small(const struct dwi_label *labels, size_t label_count, const struct dwi_label **small)
{
    size_t count = 0;
    for (size_t i = 0; i < label_count; i++)
        if (manner_for(&labels[i]) == NULL)
            small[count++] = &labels[i];
    return count;
}

/* What is to be written in the end: labels that fit their pieces or their blocks, and those to be led out. */
struct sorted {
    struct dwi_label *written, *led;
    size_t written_count, led_count;
    size_t marked; /* of those written, the ones that bear their mark alone */
};

/* From the top down, by their middles: so leaders find their ways in order. */
static void insert_led(struct sorted *sorted, const struct dwi_label *label)
{
    size_t at = sorted->led_count++;
    for (; at > 0 && sorted->led[at - 1].at.y + sorted->led[at - 1].at.y2 > label->at.y + label->at.y2; at--)
        sorted->led[at] = sorted->led[at - 1];
    sorted->led[at] = *label;
}

static void sort_one(struct sorted *sorted, const struct dwi_label *label)
{
    if (manner_for(label) != NULL)
        sorted->written[sorted->written_count++] = *label;
    else
        insert_led(sorted, label);
}

/* Gives one label to every block of this kinship that can have one (only where it fits into the block, unless `led`), and leaves the labels of the
 * others in `blocks`. */
static void sort_blocks(struct dw_arena *arena, struct sorted *sorted, struct blocks *blocks, enum kinship kinship, bool led)
{
    bool *done = dw_arena_alloc(arena, blocks->count, sizeof *done);
    bool *tried = dw_arena_alloc(arena, blocks->count, sizeof *tried);
    size_t left = 0;
    blocks->block = blocks_of(arena, blocks->small, blocks->count, kinship);
    for (size_t i = 0; i < blocks->count; i++) {
        const size_t block = blocks->block[i];
        struct dwi_label shared;
        if (tried[block])
            continue;
        tried[block] = true;
        done[block] = block_label(arena, blocks, i, &shared) && (led || manner_for(&shared) != NULL);
        if (done[block])
            sort_one(sorted, &shared);
    }
    for (size_t i = 0; i < blocks->count; i++)
        if (!done[blocks->block[i]])
            blocks->small[left++] = blocks->small[i];
    blocks->count = left;
}

/* Writes the marks alone that fit their pieces, and leaves the other labels in `blocks`. */
static void sort_marks(struct sorted *sorted, struct blocks *blocks)
{
    size_t left = 0;
    for (size_t i = 0; i < blocks->count; i++) {
        struct dwi_label alone = *blocks->small[i];
        alone.size = "";
        if (manner_for(&alone) != NULL) {
            sort_one(sorted, &alone);
            sorted->marked++;
        } else {
            blocks->small[left++] = blocks->small[i];
        }
    }
    blocks->count = left;
}

/* Where very many labels would be led out (`crowded`), pieces bear their mark alone as far as it fits: a sheet of nothing but lines cannot be read. */
static struct sorted sort_labels(struct dw_arena *arena, const struct dwi_label *labels, size_t count, bool crowded)
{
    struct sorted sorted = {.written = dw_arena_alloc(arena, count, sizeof *sorted.written), .led = dw_arena_alloc(arena, count, sizeof *sorted.led)};
    struct blocks blocks = {.labels = labels, .label_count = count, .small = dw_arena_alloc(arena, count, sizeof *blocks.small)};
    blocks.count = collect_small(labels, count, blocks.small);
    for (size_t i = 0; i < count; i++)
        if (manner_for(&labels[i]) != NULL)
            sort_one(&sorted, &labels[i]);
    for (enum kinship kinship = SIDE_BY_SIDE; crowded && kinship < KINSHIPS; kinship++)
        sort_blocks(arena, &sorted, &blocks, kinship, false);
    if (crowded)
        sort_marks(&sorted, &blocks);
    for (enum kinship kinship = SIDE_BY_SIDE; kinship < KINSHIPS; kinship++)
        sort_blocks(arena, &sorted, &blocks, kinship, true);
    for (size_t i = 0; i < blocks.count; i++)
        sort_one(&sorted, blocks.small[i]);
    return sorted;
}

/* Where a label's texts stand, with a little air around them. */
static struct dwi_area text_area(const struct dwi_label *label)
{
    const struct manner *manner = manner_for(label);
    const dw_dot mark = dwi_text_width(label->mark, manner->mark_size, true);
    const dw_dot size = dwi_text_width(label->size, manner->size_size, false);
    const dw_dot half_long = (manner->two_lines ? (mark > size ? mark : size) : mark + manner->mark_size / 2 + size) / 2 + 60;
    const dw_dot half_short = (line_height(manner->mark_size) + (manner->two_lines ? line_height(manner->size_size) : 0)) / 2 + 40;
    const dw_dot x = (label->at.x + label->at.x2) / 2;
    const dw_dot y = (label->at.y + label->at.y2) / 2;
    const dw_dot across = manner->upright ? half_short : half_long;
    const dw_dot down = manner->upright ? half_long : half_short;
    return (struct dwi_area){x - across, y - down, x + across, y + down};
}

static void add_text_areas(struct dw_arena *arena, const struct sorted *sorted, struct dwi_areas *areas)
{
    for (size_t i = 0; i < sorted->written_count; i++)
        dwi_add_area(arena, areas, text_area(&sorted->written[i]));
}

struct dwi_sheet_labels dwi_place_labels(struct dw_arena *arena, const struct dwi_label *labels, size_t count, const struct dwi_leading *leading)
{
    struct sorted sorted = sort_labels(arena, labels, count, false);
    struct dwi_leading with_texts = *leading;
    if (sorted.led_count > LED_MOST) {
        sorted = sort_labels(arena, labels, count, true);
        with_texts.waste_only = true; /* margins would only make the sheet smaller, and more labels led */
    }
    add_text_areas(arena, &sorted, &with_texts.texts);
    return (struct dwi_sheet_labels){.written = sorted.written, .written_count = sorted.written_count, .marked = sorted.marked, .texts = with_texts.texts,
                                     .leaders = dwi_lead(arena, sorted.led, sorted.led_count, &with_texts)};
}

void dwi_write_labels(struct dwi_pad *pad, struct dwi_sheet_labels *labels, struct dwi_area sheet, struct dwi_area room)
{
    dwi_draw_leaders(pad, &labels->leaders, sheet, room, &labels->texts);
    for (size_t i = 0; i < labels->written_count; i++) {
        struct dwi_label *label = &labels->written[i];
        if (label->within == 0)
            label->within = dwi_rectangle(pad, label->at, 0, DW_TONE_NONE, DW_TONE_NONE, "");
        write_label(pad, label, manner_for(label));
    }
}
