/* gather.c - like blanks become one part, but only when they are really alike: kind, name, material, sizes to cut and finished, grain, how
 * they hang, banding, every work, and whether they are matched.
 *
 * Parts come in order of material, kind, name, then size, largest first, and are numbered so: the same job gives the same ids. The pieces of
 * a part stay in the order of the job.
 *
 * Spares: of the pieces of each kind and material (sides, box fronts, backs, bottoms, fronts that are not matched) what the job asks of that kind,
 * in percent, rounded up, dealt out one by one over the parts from the largest, because a large one can still be cut down to replace a small one.
 */
#include "making.h"

#include <stdlib.h>
#include <string.h>

#include <drawerwright/memory.h>

struct entry {
    struct dwi_blank *blank;
    size_t order; /* of the blank in the job */
};

static int by_number(int64_t a, int64_t b)
{
    return (a > b) - (a < b);
}

static int compare_works(const struct dwi_works *a, const struct dwi_works *b)
{
    int found = by_number((int64_t)a->count, (int64_t)b->count);
    for (size_t i = 0; found == 0 && i < a->count; i++) {
        const struct dw_part_work *one = &a->at[i];
        const struct dw_part_work *other = &b->at[i];
        const int64_t figures[][2] = {{one->kind, other->kind},   {one->from_edge, other->from_edge}, {one->width, other->width},
                                      {one->depth, other->depth}, {one->pitch, other->pitch},         {one->number, other->number}};
        for (size_t k = 0; found == 0 && k < sizeof figures / sizeof *figures; k++)
            found = by_number(figures[k][0], figures[k][1]);
        if (found == 0)
            found = strcmp(one->words, other->words);
    }
    return found;
}

static int compare_banding(const size_t *a, const size_t *b)
{
    int found = 0;
    for (int edge = 0; found == 0 && edge < DW_EDGES; edge++)
        found = (a[edge] > b[edge]) - (a[edge] < b[edge]);
    return found;
}

/* 0 only when the two may be cut and worked as one part. */
static int compare_blanks(const struct dwi_blank *a, const struct dwi_blank *b)
{
    int found = (a->material > b->material) - (a->material < b->material);
    if (found == 0)
        found = by_number(a->kind, b->kind);
    if (found == 0)
        found = strcmp(a->name, b->name);
    const int64_t figures[][2] = {{b->length.value, a->length.value},       {b->width.value, a->width.value},
                                  {b->finished_length, a->finished_length}, {b->finished_width, a->finished_width},
                                  {a->grain, b->grain},                     {a->upright, b->upright},
                                  {a->match != NULL, b->match != NULL}};
    for (size_t k = 0; found == 0 && k < sizeof figures / sizeof *figures; k++)
        found = by_number(figures[k][0], figures[k][1]);
    if (found == 0)
        found = compare_banding(a->banding, b->banding);
    return found != 0 ? found : compare_works(&a->works, &b->works);
}

static int compare_entries(const void *a, const void *b)
{
    const struct entry *one = a;
    const struct entry *other = b;
    const int found = compare_blanks(one->blank, other->blank);
    return found != 0 ? found : (one->order > other->order) - (one->order < other->order);
}

/* ---- spares ---------------------------------------------------------------------------------------------- */

/* What the job asks of a part's kind, in percent; none of a matched front, which no other can stand for. */
static int64_t spares_asked(const struct dw_job *job, const struct dwi_blank *blank)
{
    switch (blank->kind) {
    case DW_PART_SIDE:
        return job->spares.side;
    case DW_PART_BOX_FRONT:
        return job->spares.box_front;
    case DW_PART_BACK:
        return job->spares.back;
    case DW_PART_BOTTOM:
        return job->spares.bottom;
    case DW_PART_FRONT:
        return blank->match == NULL ? job->spares.front : 0;
    case DW_PART_PACKING:
    case DW_PART_CASE:
    case DW_PART_EXTRA:
        return 0;
    }
    return 0;
}

/* Deals the spares of one kind and material over its parts at[0 .. count-1]; percent[i] is 0 or what is asked of the kind. */
static void deal_spares(struct dw_part *at, size_t count, const int64_t *percent)
{
    size_t hundredths = 0;
    for (size_t i = 0; i < count; i++)
        hundredths += at[i].count * (size_t)percent[i];
    size_t wanted = (hundredths + 99) / 100;
    for (size_t i = 0; wanted > 0; i = (i + 1) % count)
        if (percent[i] > 0) {
            at[i].spares++;
            wanted--;
        }
}

static void count_spares(struct dw_part *at, size_t count, const int64_t *percent)
{
    size_t first = 0;
    for (size_t i = 1; i <= count; i++)
        if (i == count || at[i].material != at[first].material || at[i].kind != at[first].kind) {
            deal_spares(&at[first], i - first, &percent[first]);
            first = i;
        }
}

/* ---- gathering ------------------------------------------------------------------------------------------- */

static struct dw_part part_of(const struct dwi_making *making, const struct dwi_blank *blank, size_t index)
{
    struct dw_part part = {.id = dw_arena_format(making->arena, "p%zu", index + 1),
                           .kind = blank->kind,
                           .name = blank->name,
                           .material = blank->material,
                           .length = blank->length,
                           .width = blank->width,
                           .finished_length = blank->finished_length,
                           .finished_width = blank->finished_width,
                           .thickness = making->job->shop.materials[blank->material].thickness,
                           .grain = blank->grain,
                           .upright = blank->upright,
                           .works = blank->works.at,
                           .work_count = blank->works.count};
    memcpy(part.banding, blank->banding, sizeof part.banding);
    return part;
}

/* The pieces of a part: those of its entries, then its spares, numbered on from *spare. */
static const struct dw_piece *list_pieces(const struct dwi_making *making, const struct dw_part *part, const struct entry *entries, size_t *spare)
{
    struct dw_piece *pieces = dw_arena_alloc(making->arena, part->count + part->spares, sizeof *pieces);
    for (size_t i = 0; i < part->count; i++)
        pieces[i] = entries[i].blank->piece;
    for (size_t i = 0; i < part->spares; i++)
        pieces[part->count + i] = (struct dw_piece){.mark = dwi_mark_spare(making, (*spare)++), .drawer_path = "", .case_index = DW_NO_INDEX,
                                                    .case_copy = DW_NO_INDEX, .bank_index = DW_NO_INDEX, .drawer_index = DW_NO_INDEX};
    return pieces;
}

static struct entry *in_order(const struct dwi_making *making)
{
    struct entry *entries = dw_arena_alloc(making->arena, making->blank_count, sizeof *entries);
    for (size_t i = 0; i < making->blank_count; i++)
        entries[i] = (struct entry){.blank = &making->blanks[i], .order = i};
    qsort(entries, making->blank_count, sizeof *entries, compare_entries);
    return entries;
}

void dwi_gather(struct dwi_making *making, struct dw_parts *parts)
{
    struct entry *entries = in_order(making);
    struct dw_part *at = dw_arena_alloc(making->arena, making->blank_count, sizeof *at);
    int64_t *percent = dw_arena_alloc(making->arena, making->blank_count, sizeof *percent);
    size_t count = 0;
    for (size_t i = 0; i < making->blank_count; i++) {
        struct dwi_blank *blank = entries[i].blank;
        if (i == 0 || compare_blanks(entries[i - 1].blank, blank) != 0) {
            at[count] = part_of(making, blank, count);
            percent[count] = spares_asked(making->job, blank);
            count++;
        }
        blank->part = count - 1;
        blank->place = at[count - 1].count++;
    }
    count_spares(at, count, percent);
    size_t spare = 0;
    const struct entry *next = entries;
    for (size_t i = 0; i < count; i++) {
        at[i].pieces = list_pieces(making, &at[i], next, &spare);
        next += at[i].count;
        at[i].count += at[i].spares;
    }
    parts->at = at;
    parts->count = count;
}
