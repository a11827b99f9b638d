/* pulls.c - pulls: which a front gets, and where it is drilled.
 *
 * Several rules of the shop add up: "one for each front" and "one more for each front from 24 in on" give two on a wide one. A front's pulls
 * share its width evenly, each in the middle of its share, at half the height (common practice, no source). A door's goes on the edge away
 * from its hinges, which the job does not know: it is marked when the door hangs.
 */
#include "making.h"

#include <inttypes.h>

#include <drawerwright/memory.h>

bool dwi_hardware_fits(const struct dw_hardware *hardware, const struct dw_sized_drawer *drawer)
{
    switch (drawer->drawer->fill) {
    case DW_FILL_DRAWER:
        return (hardware->per == DW_PER_DRAWER || hardware->per == DW_PER_FRONT) && drawer->front_width.value >= hardware->from_width;
    case DW_FILL_DOOR:
        return hardware->per == DW_PER_FRONT && drawer->front_width.value >= hardware->from_width;
    case DW_FILL_PANEL:
    case DW_FILL_OPEN:
        return false;
    }
    return false;
}

static const char DOOR_WORDS[] = "face: pull beside the edge away from the hinges, marked when the door hangs";

/* All pulls of a front; *centers is that of the first rule which fits. */
static int64_t count_pulls(const struct dwi_making *making, const struct dw_sized_drawer *drawer, dw_length *centers)
{
    const struct dw_shop *shop = &making->job->shop;
    int64_t count = 0;
    *centers = 0;
    for (size_t i = 0; i < shop->hardware_count; i++) {
        const struct dw_hardware *hardware = &shop->hardware[i];
        if (!hardware->pull || !dwi_hardware_fits(hardware, drawer))
            continue;
        if (count == 0)
            *centers = hardware->centers;
        count += hardware->count;
    }
    return count;
}

void dwi_pull_works(const struct dwi_making *making, const struct dw_sized_drawer *drawer, struct dwi_works *works)
{
    dw_length centers = 0;
    const int64_t pulls = count_pulls(making, drawer, &centers);
    if (pulls == 0)
        return;
    const int64_t drilled = pulls * (centers > 0 ? 2 : 1);
    if (drawer->drawer->fill != DW_FILL_DRAWER) {
        dwi_add_work(making, works, (struct dw_part_work){.kind = DW_WORK_HOLES, .where = "face", .pitch = centers, .number = drilled, .words = DOOR_WORDS});
        return;
    }
    const dw_length up = drawer->front_height.value / 2;
    const dw_length share = drawer->front_width.value / pulls;
    const char *holes = centers > 0 ? dw_arena_format(making->arena, "two holes %s apart", dwi_say(making, centers)) : "one hole";
    const char *every = pulls > 1 ? dw_arena_format(making->arena, ", then every %s", dwi_say(making, share)) : "";
    const char *words = dw_arena_format(making->arena, "face: %" PRId64 " pull%s, %s, %s above the lower edge, center %s from the left end%s", pulls,
                                        pulls > 1 ? "s" : "", holes, dwi_say(making, up), dwi_say(making, share / 2), every);
    dwi_add_work(making, works, (struct dw_part_work){.kind = DW_WORK_HOLES, .where = "face, above the lower edge", .from_edge = up,
                                                      .pitch = centers, .number = drilled, .words = words});
}
