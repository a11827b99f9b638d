/* partspage.c - parts to cut, material by material, grouped by the width they are ripped to, a box to tick for every piece; then what is done to
 * them, each thing said once under a letter. */
#include <stdlib.h>
#include <string.h>

#include <drawerwright/memory.h>
#include <drawerwright/text.h>

#include "packet.h"

/* The different things done to parts after they are cut to size. */
struct notes {
    const char **words;
    size_t count, capacity;
};

static size_t note_of(struct dw_arena *arena, struct notes *notes, const char *words)
{
    for (size_t i = 0; i < notes->count; i++)
        if (strcmp(notes->words[i], words) == 0)
            return i;
    notes->words = dw_arena_grow(arena, notes->words, notes->count, &notes->capacity, sizeof *notes->words);
    notes->words[notes->count] = words;
    return notes->count++;
}

/* a .. z, aa, ab ... */
static const char *letter(struct dw_arena *arena, size_t index)
{
    if (index < 26)
        return dw_arena_format(arena, "%c", (char)('a' + index));
    return dw_arena_format(arena, "%s%c", letter(arena, index / 26 - 1), (char)('a' + index % 26));
}

static const char *letters_of(struct dw_arena *arena, struct notes *notes, const struct dw_part *part)
{
    struct dw_text text = dw_text_in(arena);
    for (size_t i = 0; i < part->work_count; i++)
        dw_text_addf(&text, "%s%s", i == 0 ? "" : " ", letter(arena, note_of(arena, notes, part->works[i].words)));
    return text.bytes;
}

static const char *marks_of(struct dw_arena *arena, const struct dw_part *part)
{
    struct dw_text text = dw_text_in(arena);
    for (size_t i = 0; i < part->count; i++)
        dw_text_addf(&text, "%s\xE2\x98\x90\xC2\xA0%s%s", i == 0 ? "" : "  ", part->pieces[i].mark, i + part->spares >= part->count ? " (spare)" : "");
    return text.bytes;
}

static const char *grain_word(enum dw_grain grain)
{
    switch (grain) {
    case DW_ALONG:
        return "along";
    case DW_ACROSS:
        return "across";
    case DW_FREE:
        return "free";
    }
    return "";
}

static void write_part(struct dwi_flow *flow, struct notes *notes, const struct dw_part *part)
{
    struct dwi_packet *packet = flow->packet;
    struct dw_arena *arena = packet->arena;
    const char *cells[] = {dw_arena_format(arena, "%zu", part->count), dwi_length(arena, packet->job, part->width.value),
                           dwi_length(arena, packet->job, part->length.value), part->name, grain_word(part->grain), letters_of(arena, notes, part),
                           marks_of(arena, part)};
    dwi_flow_row(flow, "", cells);
}

/* Wide before narrow, long before short, else as listed: the order at the saw. */
static int at_the_saw(const void *a, const void *b)
{
    const struct dw_part *x = *(const struct dw_part *const *)a;
    const struct dw_part *y = *(const struct dw_part *const *)b;
    if (x->width.value != y->width.value)
        return x->width.value < y->width.value ? 1 : -1;
    if (x->length.value != y->length.value)
        return x->length.value < y->length.value ? 1 : -1;
    return x < y ? -1 : x > y ? 1 : 0;
}

static size_t parts_of(const struct dw_parts *parts, size_t material, const struct dw_part **found)
{
    size_t count = 0;
    for (size_t p = 0; p < parts->count; p++)
        if (parts->at[p].material == material)
            found[count++] = &parts->at[p];
    qsort(found, count, sizeof *found, at_the_saw);
    return count;
}

static void write_material(struct dwi_flow *flow, struct notes *notes, const struct dw_parts *parts, size_t material)
{
    struct dwi_packet *packet = flow->packet;
    struct dw_arena *arena = packet->arena;
    const struct dw_material *of = &packet->job->shop.materials[material];
    const struct dw_part **found = dw_arena_alloc(arena, parts->count, sizeof *found);
    const size_t count = parts_of(parts, material, found);
    size_t pieces = 0;
    for (size_t i = 0; i < count; i++)
        pieces += found[i]->count;
    if (count == 0)
        return;
    const dw_dot fixed = 3200 + 7600 + 7600 + 9000 + 4800 + 5000;
    const struct dwi_column columns[] = {
        {.title = "", .width = 3200, .align = DWI_RIGHT, .bold = true},
        {.title = "width", .width = 7600, .align = DWI_RIGHT, .bold = true, .size = 1200},
        {.title = "length", .width = 7600, .align = DWI_RIGHT, .bold = true, .size = 1200},
        {.title = "part", .width = 9000},
        {.title = "grain", .width = 4800},
        {.title = "then", .width = 5000, .wrap = true},
        {.title = "pieces", .width = packet->page_width - 2 * DWI_MARGIN - fixed, .wrap = true, .as_it_is = true},
    };
    const bool several = packet->purchase->layouts->job_count > 1;
    dwi_flow_heading(flow, of->name, dw_arena_format(arena, "measures %s, %zu %s%s%s", dwi_sold_length(arena, packet->job, of->thickness), pieces,
                                                     pieces == 1 ? "piece" : "pieces", several ? ", " : "", several ? parts->sizing->job->name : ""));
    dwi_flow_table(flow, columns, sizeof columns / sizeof *columns);
    for (size_t i = 0; i < count; i++) {
        if (i > 0 && found[i]->width.value != found[i - 1]->width.value)
            dwi_flow_rule(flow);
        write_part(flow, notes, found[i]);
    }
    flow->column_count = 0;
}

/* Together on one page when one holds them all. */
static void write_notes(struct dwi_flow *flow, const struct notes *notes)
{
    struct dw_arena *arena = flow->packet->arena;
    const struct dwi_column columns[] = {
        {.title = "", .width = 2600, .bold = true},
        {.title = "", .width = flow->width - 2600, .wrap = true},
    };
    dw_dot height = 4000; /* the heading */
    for (size_t i = 0; i < notes->count; i++)
        height += dwi_flow_row_height(flow, columns, 2, (const char *[]){"", notes->words[i]});
    if (notes->count == 0)
        return;
    if (height < dwi_high(flow->packet->room))
        dwi_flow_need(flow, height);
    dwi_flow_heading(flow, "Then", "what is done to the parts once they are cut to size");
    dwi_flow_table(flow, columns, sizeof columns / sizeof *columns);
    for (size_t i = 0; i < notes->count; i++) {
        const char *cells[] = {letter(arena, i), notes->words[i]};
        dwi_flow_row(flow, "", cells);
    }
    flow->column_count = 0;
}

void dwi_packet_parts(struct dwi_packet *packet)
{
    const struct dw_layouts *layouts = packet->purchase->layouts;
    struct notes notes = {0};
    packet->part = "Parts";
    struct dwi_flow flow = dwi_flow_on(packet, packet->part);
    for (size_t m = 0; m < packet->job->shop.material_count; m++)
        for (size_t j = 0; j < layouts->job_count; j++)
            write_material(&flow, &notes, layouts->jobs[j], m);
    write_notes(&flow, &notes);
}
