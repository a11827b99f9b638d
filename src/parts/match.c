/* match.c - fronts whose figure runs through: cut in order, with one kerf between, from one strip.
 *
 * The matched fronts of a bank are one group; banks that name the same group are one together, in the order of the job: banks from the left,
 * drawers from the top. Copies of a case are strips of their own. With horizontal grain a bank is ripped in order from a panel as wide as the
 * front; with vertical grain it is crosscut in order from one strip. Where every bank of a group has a single front they stand in a row,
 * and it is the other way round. ("Cut from one panel, in order": Woodworker's Journal 34/1, 2010; the two ways by grain, and that a kerf as
 * wide as the gap keeps the figure running: common practice.)
 */
#include "making.h"

#include <string.h>

#include <drawerwright/address.h>
#include <drawerwright/memory.h>

static const dw_length UNSEEN = DW_INCH / 64; /* a step of the figure that no eye finds */

static bool are_together(const struct dwi_blank *a, const struct dwi_blank *b)
{
    return a->match != NULL && b->match != NULL && a->match_copy == b->match_copy && strcmp(a->match, b->match) == 0;
}

/* The members of the group that blank `first` begins, as indices of blanks; 0 when an earlier blank begins it. */
static size_t list_members(const struct dwi_making *making, size_t first, size_t *members)
{
    for (size_t i = 0; i < first; i++)
        if (are_together(&making->blanks[i], &making->blanks[first]))
            return 0;
    size_t count = 0;
    for (size_t i = first; i < making->blank_count; i++)
        if (are_together(&making->blanks[i], &making->blanks[first]))
            members[count++] = i;
    return count;
}

static bool is_row(const struct dwi_making *making, const size_t *members, size_t count)
{
    for (size_t i = 1; i < count; i++) {
        const struct dw_piece *one = &making->blanks[members[i - 1]].piece;
        const struct dw_piece *other = &making->blanks[members[i]].piece;
        if (one->case_index == other->case_index && one->bank_index == other->bank_index)
            return false;
    }
    return count > 1;
}

static const char *front_address(const struct dwi_making *making, const struct dw_piece *piece)
{
    const struct dw_sized_bank *bank = &making->sizing->cases[piece->case_index].banks[piece->bank_index];
    return dw_address_key(making->arena, bank->drawers[piece->drawer_index].address, "front.matched");
}

/* All members must be of one material and grain and reach across the strip alike. */
static bool can_match(struct dwi_making *making, const size_t *members, size_t count, bool along)
{
    const struct dwi_blank *first = &making->blanks[members[0]];
    for (size_t i = 1; i < count; i++) {
        const struct dwi_blank *blank = &making->blanks[members[i]];
        if (blank->material != first->material || blank->upright != first->upright) {
            dw_error(making->faults, DW_IMPOSSIBLE, "match-mixed", front_address(making, &blank->piece),
                     "front %s is to match %s, but is of another material or grain\none material and one grain for all that match", blank->piece.mark,
                     first->piece.mark);
            return false;
        }
        const dw_length wanted = along ? first->width.value : first->length.value;
        const dw_length found = along ? blank->width.value : blank->length.value;
        if (wanted != found) {
            dw_error(making->faults, DW_IMPOSSIBLE, "match-unequal", front_address(making, &blank->piece),
                     "front %s is to match %s in one strip, but measures %s across it and not %s\nfronts of one width, or groups of their own",
                     blank->piece.mark, first->piece.mark, dwi_say_unit(making, found), dwi_say_unit(making, wanted));
            return false;
        }
    }
    return true;
}

/* Between fronts of a bank the kerf takes what the gap then shows: the figure runs on when they are equal. */
static void warn_of_kerf(struct dwi_making *making, const size_t *members, size_t count)
{
    for (size_t i = 1; i < count; i++) {
        const struct dwi_blank *blank = &making->blanks[members[i]];
        const struct dw_piece *above = &making->blanks[members[i - 1]].piece;
        if (above->case_index != blank->piece.case_index || above->bank_index != blank->piece.bank_index)
            continue;
        const struct dw_sized_bank *bank = &making->sizing->cases[blank->piece.case_index].banks[blank->piece.bank_index];
        const dw_length gap = bank->drawers[above->drawer_index].gap_below;
        const enum dw_rail_kind rail = bank->drawers[above->drawer_index].drawer->rail_below.kind;
        const dw_length kerf = making->job->shop.materials[blank->material].kerf;
        if (rail != DW_RAIL_REAL && rail != DW_RAIL_DUMMY && gap != DW_LENGTH_UNSET && (gap - kerf > UNSEEN || kerf - gap > UNSEEN))
            dw_warn(making->faults, "match-kerf", front_address(making, &blank->piece),
                    "the figure steps by %s between matched fronts: the kerf is %s, the gap %s\na gap as wide as the kerf keeps it running",
                    dwi_say_unit(making, gap > kerf ? gap - kerf : kerf - gap), dwi_say_unit(making, kerf), dwi_say_unit(making, gap));
    }
}

static struct dw_match match_of(const struct dwi_making *making, const size_t *members, size_t count, bool along)
{
    const struct dwi_blank *first = &making->blanks[members[0]];
    size_t *parts = dw_arena_alloc(making->arena, count, sizeof *parts);
    size_t *pieces = dw_arena_alloc(making->arena, count, sizeof *pieces);
    for (size_t i = 0; i < count; i++) {
        parts[i] = making->blanks[members[i]].part;
        pieces[i] = making->blanks[members[i]].place;
    }
    const bool many = making->job->cases[first->piece.case_index].count > 1;
    const char *name = many ? dw_arena_format(making->arena, "%s, copy %zu", first->match, first->match_copy + 1) : first->match;
    return (struct dw_match){.name = name, .stacked_along = along, .parts = parts, .pieces = pieces, .count = count};
}

void dwi_match(struct dwi_making *making, struct dw_parts *parts)
{
    struct dw_match *matches = NULL;
    size_t capacity = 0;
    size_t *members = dw_arena_alloc(making->arena, making->blank_count, sizeof *members);
    for (size_t i = 0; i < making->blank_count; i++) {
        if (making->blanks[i].match == NULL)
            continue;
        const size_t count = list_members(making, i, members);
        const bool along = count > 0 && making->blanks[i].upright != is_row(making, members, count);
        const bool first_copy = making->blanks[i].match_copy == 0; /* what is wrong with one copy is wrong with all */
        if (count < 2 || (first_copy && !can_match(making, members, count, along)))
            continue; /* a single front matches nothing */
        if (first_copy)
            warn_of_kerf(making, members, count);
        matches = dw_arena_grow(making->arena, matches, parts->match_count, &capacity, sizeof *matches);
        matches[parts->match_count++] = match_of(making, members, count, along);
    }
    parts->matches = matches;
}
