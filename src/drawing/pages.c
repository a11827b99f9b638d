/* pages.c - the pages that are drawings: sheets and cases. */
#include <drawerwright/memory.h>

#include "elevation.h"
#include "packet.h"
#include "sheetdraw.h"

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

void dwi_packet_cases(struct dwi_packet *packet)
{
    const struct dw_layouts *layouts = packet->purchase->layouts;
    packet->part = "Elevations and sections";
    for (size_t j = 0; j < layouts->job_count; j++)
        for (size_t c = 0; c < layouts->jobs[j]->sizing->case_count; c++) {
            const struct dwi_banks banks = dwi_all_banks(layouts->jobs[j]->sizing, c);
            if (banks.count == 0)
                continue;
            struct dwi_pad *pad = dwi_page(packet, banks.of->path);
            dwi_draw_case_views(pad, &banks, packet->room);
        }
}
