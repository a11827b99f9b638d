/* pages.c - the pages that are drawings: sheets and cases. */
#include <drawerwright/memory.h>
#include <drawerwright/text.h>

#include "elevation.h"
#include "packet.h"
#include "sheetdraw.h"

enum {
    SMALLEST_SCALE = 16, /* of an elevation: at 1 : 16 a gap of 1/8 in is still seen as a gap */
    SECTION_SCALE = 12   /* of a section: at 1 : 12 sides of 1/2 in are still seen as two lines */
};

/* Sheets that are cut alike are drawn once; the drawing names the others. */
void dwi_packet_sheets(struct dwi_packet *packet)
{
    const struct dw_layouts *layouts = packet->purchase->layouts;
    packet->part = "Sheets";
    for (size_t m = 0; m < layouts->material_count; m++)
        for (size_t s = 0; s < layouts->materials[m].sheet_count; s++) {
            const struct dwi_sheet sheet = {packet->purchase, m, s};
            if (layouts->materials[m].sheets[s].like != s)
                continue;
            struct dwi_pad *pad = dwi_page(packet, dwi_sheet_title(packet->arena, &sheet));
            dwi_draw_sheet(pad, &sheet, packet->room);
        }
}

/* Group `index` of `pages` groups of a case's banks, as even as can be. */
static struct dwi_banks group_of(const struct dwi_banks *all, size_t pages, size_t index)
{
    struct dwi_banks group = *all;
    group.first = all->count * index / pages;
    group.count = all->count * (index + 1) / pages - group.first;
    return group;
}

/* On how many pages a case's elevation is drawn: so many that each group of banks stands at least at SMALLEST_SCALE with all its dimensions, if that
 * can be had. */
static size_t elevation_pages(struct dwi_packet *packet, const struct dwi_banks *all, struct dwi_area room)
{
    size_t pages = 1;
    for (; pages < all->count; pages++) {
        bool legible = true;
        for (size_t i = 0; i < pages && legible; i++) {
            const struct dwi_banks group = group_of(all, pages, i);
            const int64_t scale = dwi_elevation_scale(packet->arena, &group, room);
            legible = scale <= SMALLEST_SCALE && dwi_elevation_is_whole(packet->arena, &group, room, scale);
        }
        if (legible)
            break;
    }
    return pages;
}

/* Its sections likewise, at SECTION_SCALE. */
static size_t section_pages(struct dwi_packet *packet, const struct dwi_banks *all, struct dwi_area room)
{
    size_t pages = 1;
    for (; pages < all->count; pages++) {
        bool legible = true;
        for (size_t i = 0; i < pages && legible; i++) {
            const struct dwi_banks group = group_of(all, pages, i);
            legible = dwi_section_scale(packet->arena, &group, room) <= SECTION_SCALE;
        }
        if (legible)
            break;
    }
    return pages;
}

/* "Bench, banks left, middle"; "Wall, banks 1 to 4". */
static const char *names_of(struct dw_arena *arena, const struct dwi_banks *group)
{
    struct dw_text text = dw_text_in(arena);
    const size_t last = group->count - 1;
    dw_text_addf(&text, "%s, %s %s", group->of->path, last == 0 ? "bank" : "banks", dwi_last_name(dwi_bank_at(group, 0)->path));
    if (last > 1)
        dw_text_addf(&text, " to %s", dwi_last_name(dwi_bank_at(group, last)->path));
    else if (last == 1)
        dw_text_addf(&text, ", %s", dwi_last_name(dwi_bank_at(group, 1)->path));
    return text.bytes;
}

static void draw_elevation_page(struct dwi_packet *packet, const struct dwi_banks *banks, const char *name)
{
    struct dwi_pad *pad = dwi_page(packet, dw_arena_format(packet->arena, "Elevation: %s", name));
    struct dwi_area room = packet->room;
    room.y2 -= DWI_CAPTION_HIGH;
    const int64_t scale = dwi_elevation_scale(packet->arena, banks, room);
    dwi_draw_elevation(pad, banks, room, scale);
    dwi_draw_caption(pad, banks, packet->room, scale, "Slide heights are from the case floor.");
}

/* A section for every level, two on a page where they stand there at SECTION_SCALE or larger. */
static void draw_section_pages(struct dwi_packet *packet, const struct dwi_banks *banks, const char *name)
{
    const size_t levels = dwi_section_levels(banks);
    struct dwi_area half = packet->room;
    half.y2 = half.y + (dwi_high(packet->room) - DWI_CAPTION_HIGH) / 2;
    struct dwi_banks at = *banks;
    int64_t halved = 1;
    for (at.level = 0; at.level < levels; at.level++) {
        const int64_t scale = dwi_section_scale(packet->arena, &at, half);
        halved = scale > halved ? scale : halved;
    }
    const bool paired = levels > 1 && halved <= SECTION_SCALE;
    for (at.level = 0; at.level < levels; at.level++) {
        struct dwi_area room = packet->room;
        room.y2 -= DWI_CAPTION_HIGH;
        if (paired && at.level % 2 == 1)
            room.y = half.y2;
        const int64_t scale = paired ? halved : dwi_section_scale(packet->arena, &at, room);
        struct dwi_pad *pad = paired && at.level % 2 == 1 ? dwi_page_now(packet) : dwi_page(packet, dw_arena_format(packet->arena, "Plan section: %s", name));
        dwi_draw_section(pad, &at, room, scale);
        if (!paired || at.level % 2 == 0)
            dwi_draw_caption(pad, &at, packet->room, scale, levels == 1 ? "Seen from above, the front below. Drawers named together are alike in this view."
                                                                      : "Seen from above, the front below. Drawers named together are alike in this view; each is shown once.");
    }
}

static void draw_case(struct dwi_packet *packet, const struct dw_sizing *sizing, size_t case_index)
{
    const struct dwi_banks all = dwi_all_banks(sizing, case_index);
    struct dwi_area room = packet->room;
    room.y2 -= DWI_CAPTION_HIGH;
    size_t pages = elevation_pages(packet, &all, room);
    for (size_t i = 0; i < pages && all.count > 0; i++) {
        const struct dwi_banks group = group_of(&all, pages, i);
        draw_elevation_page(packet, &group, pages == 1 ? all.of->path : names_of(packet->arena, &group));
    }
    pages = section_pages(packet, &all, room);
    for (size_t i = 0; i < pages && all.count > 0; i++) {
        const struct dwi_banks group = group_of(&all, pages, i);
        draw_section_pages(packet, &group, pages == 1 ? all.of->path : names_of(packet->arena, &group));
    }
}

void dwi_packet_cases(struct dwi_packet *packet)
{
    const struct dw_layouts *layouts = packet->purchase->layouts;
    packet->part = "Elevations and sections";
    for (size_t j = 0; j < layouts->job_count; j++)
        for (size_t c = 0; c < layouts->jobs[j]->sizing->case_count; c++)
            draw_case(packet, layouts->jobs[j]->sizing, c);
}
