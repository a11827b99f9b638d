/* changes.c - what differs between two plans, in lines for the maker: thickness as measured, sizes, pieces, sheets, money. Pieces are told from one
 * another by their marks, which a job gives the same names each time it is planned. */
#include "rest.h"

#include <string.h>

#include <drawerwright/memory.h>
#include <drawerwright/text.h>

enum { MARKS_MOST = 12 }; /* named in one line */

/* A piece by itself: its part in its plan. */
struct lone {
    const struct dw_plan_part *part;
    const char *mark;
    const struct dw_plan_part *other; /* of the same mark in the other plan; NULL */
    bool later;                       /* its own plan leaves it for later */
    bool told;
};

struct comparing {
    const struct dw_plan *before, *after;
    const struct dw_made_piece *cut;
    size_t cut_count;
    struct dw_length_style style;
    int decimals;
    struct dw_arena *arena;
    const char **lines;
    size_t count, capacity;
};

static void add_line(struct comparing *comparing, const char *line)
{
    comparing->lines = dw_arena_grow(comparing->arena, comparing->lines, comparing->count, &comparing->capacity, sizeof *comparing->lines);
    comparing->lines[comparing->count++] = line;
}

static const char *show(const struct comparing *comparing, dw_length length)
{
    return dw_length_show(comparing->arena, length, comparing->style);
}

/* ---- pieces ----------------------------------------------------------------------------------------------- */

static const struct dw_plan_part *find_part(const struct dw_plan_part *parts, size_t count, const char *mark)
{
    for (size_t p = 0; p < count; p++)
        for (size_t i = 0; i < parts[p].count; i++)
            if (strcmp(parts[p].pieces[i], mark) == 0)
                return &parts[p];
    return NULL;
}

/* Planned now or later: its size is known either way. */
static const struct dw_plan_part *part_of_mark(const struct dw_plan *plan, const char *mark)
{
    const struct dw_plan_part *part = find_part(plan->parts, plan->part_count, mark);
    return part != NULL ? part : find_part(plan->later, plan->later_count, mark);
}

static struct lone *pieces_of(const struct comparing *comparing, const struct dw_plan *plan, const struct dw_plan *other, size_t *count)
{
    struct lone *pieces = NULL;
    size_t capacity = 0;
    *count = 0;
    for (size_t p = 0; p < plan->part_count + plan->later_count; p++) {
        const bool later = p >= plan->part_count;
        const struct dw_plan_part *part = later ? &plan->later[p - plan->part_count] : &plan->parts[p];
        for (size_t i = 0; i < part->count; i++) {
            pieces = dw_arena_grow(comparing->arena, pieces, *count, &capacity, sizeof *pieces);
            pieces[(*count)++] = (struct lone){.part = part, .mark = part->pieces[i], .other = part_of_mark(other, part->pieces[i]), .later = later};
        }
    }
    return pieces;
}

/* Takes together all pieces from `at` on that `is_like` the first, and tells them as one line behind `words`. */
typedef bool is_like(const struct lone *first, const struct lone *other);

static void tell(struct comparing *comparing, const char *words, struct lone *pieces, size_t at, size_t count, is_like *like)
{
    struct dw_text line = dw_text_in(comparing->arena);
    size_t told = 0;
    const struct lone first = pieces[at];
    dw_text_add(&line, words);
    for (size_t i = at; i < count; i++) {
        if (pieces[i].told || !like(&first, &pieces[i]))
            continue;
        pieces[i].told = true;
        if (told++ < MARKS_MOST)
            dw_text_addf(&line, "%s%s", told == 1 ? " " : ", ", pieces[i].mark);
    }
    if (told > MARKS_MOST)
        dw_text_addf(&line, " and %zu more", told - MARKS_MOST);
    add_line(comparing, line.bytes);
}

static bool is_resized(const struct lone *piece)
{
    return piece->other != NULL && (piece->part->length != piece->other->length || piece->part->width != piece->other->width);
}

static bool is_resized_alike(const struct lone *first, const struct lone *other)
{
    return is_resized(other) && strcmp(first->part->name, other->part->name) == 0 && first->part->length == other->part->length &&
           first->part->width == other->part->width && first->other->length == other->other->length && first->other->width == other->other->width;
}

/* Cut from another batch. Where the thickness of a material changes all of it is said once (compare_material). */
static bool is_moved(const struct lone *piece)
{
    return piece->other != NULL && strcmp(piece->part->material, piece->other->material) != 0;
}

static bool is_moved_alike(const struct lone *first, const struct lone *other)
{
    return is_moved(other) && strcmp(first->part->material, other->part->material) == 0 && strcmp(first->other->material, other->other->material) == 0;
}

static bool is_alone_alike(const struct lone *first, const struct lone *other)
{
    return other->other == NULL && strcmp(first->part->name, other->part->name) == 0;
}

static void compare_materials_of_pieces(struct comparing *comparing, struct lone *pieces, size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (!pieces[i].told && is_moved(&pieces[i]))
            tell(comparing, dw_arena_format(comparing->arena, "from %s (%s) -> %s (%s):", pieces[i].part->material, show(comparing, pieces[i].part->thickness),
                                            pieces[i].other->material, show(comparing, pieces[i].other->thickness)),
                 pieces, i, count, is_moved_alike);
    for (size_t i = 0; i < count; i++)
        pieces[i].told = false; /* sizes are another matter */
}

static void compare_sizes(struct comparing *comparing, struct lone *pieces, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        const struct lone *piece = &pieces[i];
        if (piece->told || !is_resized(piece))
            continue;
        const char *words = dw_arena_format(comparing->arena, "%s %s x %s -> %s x %s:", piece->part->name, show(comparing, piece->part->length),
                                            show(comparing, piece->part->width), show(comparing, piece->other->length), show(comparing, piece->other->width));
        tell(comparing, words, pieces, i, count, is_resized_alike);
    }
}

static bool is_cut(const struct comparing *comparing, const char *mark)
{
    for (size_t i = 0; i < comparing->cut_count; i++)
        if (strcmp(comparing->cut[i].piece.mark, mark) == 0)
            return true;
    return false;
}

/* Pieces of one plan that the other has not; those that are cut are merely counted. */
static void compare_alone(struct comparing *comparing, struct lone *pieces, size_t count, const char *words)
{
    size_t cut = 0;
    for (size_t i = 0; i < count; i++)
        if (pieces[i].other == NULL && is_cut(comparing, pieces[i].mark)) {
            pieces[i].told = true;
            cut++;
        }
    if (cut > 0)
        add_line(comparing, dw_arena_format(comparing->arena, "cut, and left as %s: %zu %s", cut == 1 ? "it is" : "they are", cut, cut == 1 ? "piece" : "pieces"));
    for (size_t i = 0; i < count; i++)
        if (!pieces[i].told && pieces[i].other == NULL)
            tell(comparing, dw_arena_format(comparing->arena, "%s, %s:", words, pieces[i].part->name), pieces, i, count, is_alone_alike);
}

static bool is_planned(const struct dw_plan *plan, const char *mark)
{
    return find_part(plan->parts, plan->part_count, mark) != NULL;
}

/* What one plan left for later and the other plans. */
static void compare_phases(struct comparing *comparing, const struct lone *pieces, size_t count)
{
    size_t now = 0;
    size_t later = 0;
    for (size_t i = 0; i < count; i++) {
        if (pieces[i].other == NULL)
            continue;
        const bool planned = is_planned(comparing->after, pieces[i].mark);
        now += pieces[i].later && planned ? 1 : 0;
        later += !pieces[i].later && !planned ? 1 : 0;
    }
    if (now > 0)
        add_line(comparing, dw_arena_format(comparing->arena, "left for later before, and planned now: %zu %s", now, now == 1 ? "piece" : "pieces"));
    if (later > 0)
        add_line(comparing, dw_arena_format(comparing->arena, "planned before, and left for later now: %zu %s", later, later == 1 ? "piece" : "pieces"));
}

static void compare_pieces(struct comparing *comparing)
{
    size_t before = 0;
    size_t after = 0;
    struct lone *first = pieces_of(comparing, comparing->before, comparing->after, &before);
    struct lone *second = pieces_of(comparing, comparing->after, comparing->before, &after);
    compare_materials_of_pieces(comparing, first, before);
    compare_sizes(comparing, first, before);
    compare_phases(comparing, first, before);
    compare_alone(comparing, first, before, "no longer planned");
    compare_alone(comparing, second, after, "new");
}

/* ---- material and money ----------------------------------------------------------------------------------- */

static dw_length thickness_of(const struct dw_plan *plan, const char *material)
{
    for (size_t p = 0; p < plan->part_count; p++)
        if (strcmp(plan->parts[p].material, material) == 0)
            return plan->parts[p].thickness;
    for (size_t p = 0; p < plan->later_count; p++)
        if (strcmp(plan->later[p].material, material) == 0)
            return plan->later[p].thickness;
    return DW_LENGTH_UNSET;
}

static size_t sheets_of(const struct dw_plan *plan, const char *material, bool owned)
{
    size_t count = 0;
    for (size_t m = 0; m < plan->material_count; m++)
        for (size_t s = 0; s < plan->materials[m].sheet_count && strcmp(plan->materials[m].material, material) == 0; s++)
            count += plan->materials[m].sources[plan->materials[m].sheets[s].source].owned == owned ? 1 : 0;
    return count;
}

static void compare_material(struct comparing *comparing, const char *material)
{
    const dw_length before = thickness_of(comparing->before, material);
    const dw_length after = thickness_of(comparing->after, material);
    const size_t bought[] = {sheets_of(comparing->before, material, false), sheets_of(comparing->after, material, false)};
    const size_t owned[] = {sheets_of(comparing->before, material, true), sheets_of(comparing->after, material, true)};
    if (before != DW_LENGTH_UNSET && after != DW_LENGTH_UNSET && before != after)
        add_line(comparing, dw_arena_format(comparing->arena, "%s measures %s -> %s", material, show(comparing, before), show(comparing, after)));
    if (bought[0] != bought[1])
        add_line(comparing, dw_arena_format(comparing->arena, "sheets of %s to buy: %zu -> %zu", material, bought[0], bought[1]));
    if (owned[0] != owned[1])
        add_line(comparing, dw_arena_format(comparing->arena, "pieces of %s cut from what is there: %zu -> %zu", material, owned[0], owned[1]));
}

static int64_t bought_of(const struct dw_plan *plan, const char *id)
{
    int64_t bought = 0;
    for (size_t i = 0; i < plan->goods_count; i++)
        bought += strcmp(plan->goods[i].id, id) == 0 ? plan->goods[i].bought : 0;
    return bought;
}

/* Slides, pulls and the like, for a plan that follows: what is missing to those bought before, and what of them is over. */
static void compare_goods(struct comparing *comparing)
{
    for (size_t i = 0; i < comparing->after->goods_count && comparing->after->follows[0] != '\0'; i++) {
        const struct dw_goods *goods = &comparing->after->goods[i];
        const int64_t before = bought_of(comparing->before, goods->id);
        if (goods->bought > before)
            add_line(comparing, dw_arena_format(comparing->arena, "still to buy: %lld x %s (%lld wanted, %lld bought before)", (long long)(goods->bought - before),
                                                goods->what, (long long)goods->wanted, (long long)before));
        else if (goods->bought > goods->wanted)
            add_line(comparing, dw_arena_format(comparing->arena, "bought and not wanted any more: %lld x %s", (long long)(goods->bought - goods->wanted),
                                                goods->what));
    }
}

static bool has_material(const struct dw_plan *plan, const char *material)
{
    for (size_t m = 0; m < plan->material_count; m++)
        if (strcmp(plan->materials[m].material, material) == 0)
            return true;
    return false;
}

static void body(void *context)
{
    struct comparing *comparing = context;
    for (size_t m = 0; m < comparing->before->material_count; m++)
        compare_material(comparing, comparing->before->materials[m].material);
    for (size_t m = 0; m < comparing->after->material_count; m++)
        if (!has_material(comparing->before, comparing->after->materials[m].material))
            compare_material(comparing, comparing->after->materials[m].material);
    compare_pieces(comparing);
    compare_goods(comparing);
    if (comparing->before->total != comparing->after->total)
        add_line(comparing, dw_arena_format(comparing->arena, "money out: %s -> %s", dw_money_show(comparing->arena, comparing->before->total, comparing->decimals),
                                            dw_money_show(comparing->arena, comparing->after->total, comparing->decimals)));
}

enum dw_status dw_run_changes(const struct dw_plan *before, const struct dw_plan *after, const struct dw_progress *progress, enum dw_unit unit, int decimals,
                              struct dw_arena *arena, struct dw_faults *faults, struct dw_run_changes *changes)
{
    struct comparing comparing = {.before = before, .after = after, .decimals = decimals, .arena = arena,
                                  .style = {.unit = unit == DW_IN ? DW_IN : DW_MILLIMETER, .denominator = 64, .decimals = -1}};
    if (progress != NULL) {
        comparing.cut = progress->cut;
        comparing.cut_count = progress->cut_count;
    }
    *changes = (struct dw_run_changes){.count = 0};
    if (!dw_arena_guard(arena, body, &comparing)) {
        dw_error(faults, DW_SURROUNDINGS, "memory", "", "memory ran out");
        return DW_SURROUNDINGS;
    }
    *changes = (struct dw_run_changes){.lines = comparing.lines, .count = comparing.count};
    return DW_DONE;
}
