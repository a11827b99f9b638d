/* rest.c - of all parts those that are left to make: without what is cut and good, and only of the kind or place asked for. */
#include "rest.h"

#include <string.h>

#include <drawerwright/memory.h>
#include <drawerwright/text.h>

/* ---- which ------------------------------------------------------------------------------------------------ */

static const struct {
    const char *word;
    enum dw_part_kind kinds[4];
    size_t count;
} groups[] = {
    {"boxes", {DW_PART_SIDE, DW_PART_BOX_FRONT, DW_PART_BACK, DW_PART_BOTTOM}, 4},
    {"fronts", {DW_PART_FRONT}, 1},
    {"case", {DW_PART_CASE, DW_PART_PACKING}, 2},
    {"extras", {DW_PART_EXTRA}, 1},
};

static bool is_in_group(const char *word, enum dw_part_kind kind, bool *known)
{
    for (size_t g = 0; g < sizeof groups / sizeof *groups; g++) {
        if (strcmp(groups[g].word, word) != 0)
            continue;
        *known = true;
        for (size_t k = 0; k < groups[g].count; k++)
            if (groups[g].kinds[k] == kind)
                return true;
    }
    return false;
}

/* The case, bank or drawer of that path, or one within it. */
static bool is_within(const char *path, const char *place)
{
    const size_t length = strlen(place);
    return strncmp(path, place, length) == 0 && (path[length] == '\0' || path[length] == '/');
}

static bool is_asked(const struct dw_run_rest *rest, const struct dw_part *part, const struct dw_piece *piece)
{
    for (size_t i = 0; i < rest->only_count; i++) {
        bool known = false;
        if (is_in_group(rest->only[i], part->kind, &known) || (!known && is_within(piece->drawer_path, rest->only[i])))
            return true;
    }
    return rest->only_count == 0;
}

static const struct dw_work_piece *find_cut(const struct dw_run_rest *rest, const char *mark)
{
    for (size_t i = 0; i < rest->cut_count; i++)
        if (strcmp(rest->cut[i].piece.mark, mark) == 0)
            return &rest->cut[i].piece;
    return NULL;
}

/* ---- the rest --------------------------------------------------------------------------------------------- */

/* Where each piece of each part went: part and piece of the rest, or DW_NO_INDEX. */
struct moved {
    size_t part, *pieces;
};

static void move_pieces(const struct dw_run_rest *rest, struct dw_arena *arena, const struct dw_part *part, struct dw_part *left, struct moved *moved)
{
    struct dw_piece *pieces = dw_arena_alloc(arena, part->count, sizeof *pieces);
    moved->pieces = dw_arena_alloc(arena, part->count, sizeof *moved->pieces);
    *left = *part;
    left->count = 0;
    left->spares = 0;
    for (size_t i = 0; i < part->count; i++) {
        moved->pieces[i] = DW_NO_INDEX;
        if (!is_asked(rest, part, &part->pieces[i]) || find_cut(rest, part->pieces[i].mark) != NULL)
            continue;
        moved->pieces[i] = left->count;
        left->spares += i >= part->count - part->spares ? 1 : 0;
        pieces[left->count++] = part->pieces[i];
    }
    left->pieces = pieces;
}

/* Matched fronts that are left keep their order. */
static void move_matches(const struct dw_parts *parts, const struct moved *moved, struct dw_arena *arena, struct dw_parts *rest)
{
    struct dw_match *matches = dw_arena_alloc(arena, parts->match_count, sizeof *matches);
    rest->match_count = 0;
    for (size_t m = 0; m < parts->match_count; m++) {
        const struct dw_match *match = &parts->matches[m];
        size_t *part = dw_arena_alloc(arena, match->count, sizeof *part);
        size_t *piece = dw_arena_alloc(arena, match->count, sizeof *piece);
        size_t count = 0;
        for (size_t i = 0; i < match->count; i++) {
            if (moved[match->parts[i]].pieces[match->pieces[i]] == DW_NO_INDEX)
                continue;
            part[count] = moved[match->parts[i]].part;
            piece[count++] = moved[match->parts[i]].pieces[match->pieces[i]];
        }
        if (count == 0)
            continue;
        struct dw_match *left = &matches[rest->match_count++];
        *left = *match;
        left->parts = part;
        left->pieces = piece;
        left->count = count;
    }
    rest->matches = matches;
}

/* What was bought before is not bought again. */
static void take_bought(const struct dw_run_rest *rest, struct dw_goods *pool, struct dw_arena *arena, struct dw_parts *left)
{
    struct dw_need *needs = dw_arena_copy(arena, left->needs, left->need_count, sizeof *needs);
    for (size_t n = 0; n < left->need_count; n++)
        for (size_t i = 0; i < rest->bought_count; i++) {
            if (strcmp(pool[i].id, needs[n].id) != 0)
                continue;
            const int64_t taken = dw_least(pool[i].bought, needs[n].packs);
            needs[n].bought += taken;
            needs[n].packs -= taken;
            pool[i].bought -= taken;
        }
    left->needs = needs;
}

static void add_idle(const struct dw_run_rest *rest, const struct dw_goods *pool, struct dw_arena *arena, struct dw_parts *left)
{
    struct dw_need *needs = dw_arena_alloc(arena, left->need_count + rest->bought_count, sizeof *needs);
    for (size_t n = 0; n < left->need_count; n++)
        needs[n] = left->needs[n];
    for (size_t i = 0; i < rest->bought_count; i++)
        if (pool[i].bought > 0)
            needs[left->need_count++] = (struct dw_need){.kind = DW_NEED_HARDWARE, .index = DW_NO_INDEX, .id = pool[i].id, .name = pool[i].what,
                                                         .supplier = "", .bought = pool[i].bought, .rule = "bought before, and not wanted any more"};
    left->needs = needs;
}

/* Parts that nobody asked for yet, as they would be cut now. */
static void leave_for_later(const struct dw_parts *parts, const struct dw_run_rest *rest, struct dw_arena *arena, struct dw_parts *left)
{
    struct dw_part *later = dw_arena_alloc(arena, parts->count, sizeof *later);
    left->later_count = 0;
    for (size_t p = 0; p < parts->count; p++) {
        struct dw_part *part = &later[left->later_count];
        struct dw_piece *pieces = dw_arena_alloc(arena, parts->at[p].count, sizeof *pieces);
        *part = parts->at[p];
        part->pieces = pieces;
        part->count = 0;
        for (size_t i = 0; i < parts->at[p].count; i++)
            if (!is_asked(rest, &parts->at[p], &parts->at[p].pieces[i]) && find_cut(rest, parts->at[p].pieces[i].mark) == NULL)
                pieces[part->count++] = parts->at[p].pieces[i];
        left->later_count += part->count > 0 ? 1 : 0;
    }
    left->later = later;
}

static struct dw_parts *rest_of(const struct dw_parts *parts, const struct dw_run_rest *rest, struct dw_goods *pool, struct dw_arena *arena)
{
    struct dw_parts *left = dw_arena_copy(arena, parts, 1, sizeof *left);
    struct dw_part *at = dw_arena_alloc(arena, parts->count, sizeof *at);
    struct moved *moved = dw_arena_alloc(arena, parts->count, sizeof *moved);
    left->at = at;
    left->count = 0;
    for (size_t p = 0; p < parts->count; p++) {
        moved[p].part = left->count;
        move_pieces(rest, arena, &parts->at[p], &at[left->count], &moved[p]);
        left->count += at[left->count].count > 0 ? 1 : 0;
    }
    move_matches(parts, moved, arena, left);
    leave_for_later(parts, rest, arena, left);
    take_bought(rest, pool, arena, left);
    return left;
}

void dwi_rest_take(const struct dw_parts **jobs, size_t job_count, const struct dw_run_rest *rest, struct dw_arena *arena)
{
    struct dw_goods *pool = dw_arena_copy(arena, rest->bought, rest->bought_count, sizeof *pool);
    for (size_t job = 0; job < job_count; job++) {
        struct dw_parts *left = rest_of(jobs[job], rest, pool, arena);
        if (job + 1 == job_count)
            add_idle(rest, pool, arena, left);
        jobs[job] = left;
    }
}

/* ---- what is cut otherwise -------------------------------------------------------------------------------- */

static const char *show_size(struct dw_arena *arena, enum dw_unit unit, dw_length length, dw_length width)
{
    const struct dw_length_style style = {.unit = unit == DW_IN ? DW_IN : DW_MILLIMETER, .denominator = 64, .decimals = -1};
    return dw_arena_format(arena, "%s x %s", dw_length_show(arena, length, style), dw_length_show(arena, width, style));
}

const struct dw_part *dwi_rest_piece(const struct dw_parts *const *jobs, size_t job_count, const char *mark, size_t *job, const struct dw_piece **piece)
{
    for (*job = 0; *job < job_count; (*job)++)
        for (size_t p = 0; p < jobs[*job]->count; p++)
            for (size_t i = 0; i < jobs[*job]->at[p].count; i++)
                if (strcmp(jobs[*job]->at[p].pieces[i].mark, mark) == 0) {
                    *piece = &jobs[*job]->at[p].pieces[i];
                    return &jobs[*job]->at[p];
                }
    return NULL;
}

static bool is_of_box(const struct dw_part *part)
{
    return part->kind == DW_PART_SIDE || part->kind == DW_PART_BOX_FRONT || part->kind == DW_PART_BACK || part->kind == DW_PART_BOTTOM;
}

static bool is_same_drawer(const struct dw_piece *one, const struct dw_piece *other)
{
    return one->case_index == other->case_index && one->case_copy == other->case_copy && one->bank_index == other->bank_index &&
           one->drawer_index == other->drawer_index;
}

/* The marks of a box that are to be cut by this plan; "" for none. */
static const char *to_cut_of(const struct dw_parts *parts, const struct dw_piece *of, const struct dw_run_rest *rest, struct dw_arena *arena)
{
    struct dw_text marks = dw_text_in(arena);
    for (size_t p = 0; p < parts->count; p++)
        for (size_t i = 0; i < parts->at[p].count && is_of_box(&parts->at[p]); i++) {
            const struct dw_piece *piece = &parts->at[p].pieces[i];
            if (is_same_drawer(of, piece) && is_asked(rest, &parts->at[p], piece) && find_cut(rest, piece->mark) == NULL)
                dw_text_addf(&marks, "%s%s", marks.length == 0 ? "" : ", ", piece->mark);
        }
    return marks.length == 0 ? "" : marks.bytes;
}

/* A piece is cut to a size that the job does not ask for any more. It is left; but if others of its box are to be cut to the new sizes, the maker must choose. */
static void warn_of_size(const struct dw_work_piece *cut, const struct dw_part *part, const char *mates, enum dw_unit unit, struct dw_arena *arena,
                         struct dw_faults *faults)
{
    const char *cure = mates[0] == '\0' ? "it is left as it is: mark it as spoiled to have it made anew"
                                        : dw_arena_format(arena, "%s of the same box will be cut to the new sizes and may not meet it: mark it as spoiled "
                                                                 "too, or give the job the sizes that it was cut to", mates);
    dw_warn(faults, DWI_CUT_DIFFERS, cut->mark, "this %s is cut at %s and would now be %s\n%s", cut->name, show_size(arena, unit, cut->length, cut->width),
            show_size(arena, unit, part->length.value, part->width.value), cure);
}

void dwi_rest_warn(const struct dw_parts *const *jobs, size_t job_count, const struct dw_run_rest *rest, struct dw_arena *arena, struct dw_faults *faults)
{
    for (size_t i = 0; i < rest->cut_count; i++) {
        const struct dw_work_piece *cut = &rest->cut[i].piece;
        size_t job = 0;
        const struct dw_piece *piece = NULL;
        const struct dw_part *part = dwi_rest_piece(jobs, job_count, cut->mark, &job, &piece);
        if (part == NULL)
            dw_warn(faults, "cut-unwanted", cut->mark, "this %s is cut, and the job wants it no more\nlay it aside", cut->name);
        else if (part->length.value != cut->length || part->width.value != cut->width)
            warn_of_size(cut, part, is_of_box(part) ? to_cut_of(jobs[job], piece, rest, arena) : "", jobs[0]->sizing->job->unit, arena, faults);
    }
}

/* ---- what is left to cut it from -------------------------------------------------------------------------- */

struct leaving {
    const struct dw_progress *progress;
    struct dw_arena *arena;
    struct dw_owned *owned;
    size_t count;
};

/* A thickness that is exact in inches is told so, any other in millimeters. */
const char *dwi_measured_material(const char *material, dw_length thickness, struct dw_arena *arena)
{
    const struct dw_length_style inches = {.unit = DW_IN, .denominator = 128, .decimals = -1};
    const struct dw_length_style exact = dw_length_is_exact(thickness, inches) ? inches : (struct dw_length_style){.unit = DW_MILLIMETER, .decimals = -1};
    const char *between = strstr(material, DW_BATCH_BETWEEN);
    const size_t base = between == NULL ? strlen(material) : (size_t)(between - material);
    if (thickness == DW_LENGTH_UNSET)
        return material;
    return dw_arena_format(arena, "%.*s" DW_BATCH_BETWEEN DWI_MEASURED "%s", (int)base, material, dw_length_show_unit(arena, thickness, exact));
}

static void leave(void *context)
{
    struct leaving *leaving = context;
    leaving->owned = dw_arena_alloc(leaving->arena, leaving->progress->left_count, sizeof *leaving->owned);
    for (size_t i = 0; i < leaving->progress->left_count; i++) {
        const struct dw_left_panel *left = &leaving->progress->left[i];
        const dw_length *trim = left->panel.trim;
        if (left->panel.length <= trim[0] + trim[1] || left->panel.width <= trim[2] + trim[3])
            continue;
        struct dw_owned *owned = &leaving->owned[leaving->count++];
        *owned = (struct dw_owned){.id = left->id, .material = dwi_measured_material(left->panel.material, left->thickness, leaving->arena),
                                   .length = left->panel.length, .width = left->panel.width,
                                   .grain_across = left->panel.grain_across, .value = left->panel.value, .count = 1, .note = left->note};
        memcpy(owned->trim, trim, sizeof owned->trim);
    }
}

enum dw_status dw_run_left(const struct dw_progress *progress, struct dw_arena *arena, struct dw_faults *faults, const struct dw_owned **owned, size_t *count)
{
    struct leaving leaving = {.progress = progress, .arena = arena};
    *count = 0;
    if (!dw_arena_guard(arena, leave, &leaving)) {
        dw_error(faults, DW_SURROUNDINGS, "memory", "", "memory ran out");
        return DW_SURROUNDINGS;
    }
    *owned = leaving.owned;
    *count = leaving.count;
    return DW_DONE;
}
