/* pages.c - the pages that are drawings: sheets and cases. */
#include <string.h>

#include <drawerwright/memory.h>
#include <drawerwright/text.h>

#include "elevation.h"
#include "packet.h"
#include "sheetdraw.h"

enum { SMALLEST_SCALE = 16 }; /* at 1 : 16 a gap of 1/8 in is still seen as a gap */

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

/* Banks first .. first + count of a case's banks, one elevation and one section. */
static void draw_pages(struct dwi_packet *packet, const struct dwi_banks *banks, const char *name)
{
    struct dwi_pad *pad = dwi_page(packet, dw_arena_format(packet->arena, "%s: elevation", name));
    struct dwi_area room = packet->room;
    room.y2 -= DWI_CAPTION_HIGH;
    int64_t scale = dwi_elevation_scale(packet->arena, banks, room);
    dwi_draw_elevation(pad, banks, room, scale);
    dwi_draw_caption(pad, banks, packet->room, scale, "Slide heights are from the case floor.");
    pad = dwi_page(packet, dw_arena_format(packet->arena, "%s: plan section", name));
    scale = dwi_section_scale(packet->arena, banks, room);
    dwi_draw_section(pad, banks, room, scale);
    dwi_draw_caption(pad, banks, packet->room, scale, "The uppermost drawer of each bank, seen from above, the front below.");
}

/* Group `index` of `pages` groups of a case's banks, as even as can be. */
static struct dwi_banks group_of(const struct dwi_banks *all, size_t pages, size_t index)
{
    struct dwi_banks group = *all;
    group.first = all->count * index / pages;
    group.count = all->count * (index + 1) / pages - group.first;
    return group;
}

/* On how many pages a case's banks are drawn: so many that each group stands at least at SMALLEST_SCALE with all its dimensions, if that
 * can be had. */
static size_t pages_for(struct dwi_packet *packet, const struct dwi_banks *all, struct dwi_area room)
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

/* "Bench, banks left, middle". */
static const char *names_of(struct dw_arena *arena, const struct dwi_banks *group)
{
    struct dw_text text = dw_text_in(arena);
    dw_text_addf(&text, "%s, %s ", group->of->path, group->count == 1 ? "bank" : "banks");
    for (size_t b = 0; b < group->count; b++) {
        const char *path = group->of->banks[group->first + b].path;
        const char *slash = strrchr(path, '/');
        dw_text_addf(&text, "%s%s", b == 0 ? "" : ", ", slash == NULL ? path : slash + 1);
    }
    return text.bytes;
}

static void draw_case(struct dwi_packet *packet, const struct dw_sizing *sizing, size_t case_index)
{
    const struct dwi_banks all = dwi_all_banks(sizing, case_index);
    struct dwi_area room = packet->room;
    room.y2 -= DWI_CAPTION_HIGH;
    const size_t pages = pages_for(packet, &all, room);
    for (size_t i = 0; i < pages && all.count > 0; i++) {
        const struct dwi_banks group = group_of(&all, pages, i);
        draw_pages(packet, &group, pages == 1 ? all.of->path : names_of(packet->arena, &group));
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
