/* boxpage.c - one page for each way in which the boxes of a packet are made: the first drawer of the kind, and which others are made like it. */
#include <string.h>

#include <drawerwright/memory.h>
#include <drawerwright/text.h>

#include "boxdraw.h"
#include "packet.h"

struct made {
    const struct dw_parts *parts;
    const struct dw_sized_drawer *drawer;
};

/* Every drawer with a box, of all jobs, in order. */
static size_t all_boxes(const struct dwi_packet *packet, struct made *made)
{
    const struct dw_layouts *layouts = packet->purchase->layouts;
    size_t count = 0;
    for (size_t j = 0; j < layouts->job_count; j++) {
        const struct dw_sizing *sizing = layouts->jobs[j]->sizing;
        for (size_t c = 0; c < sizing->case_count; c++)
            for (size_t b = 0; b < sizing->cases[c].bank_count; b++)
                for (size_t d = 0; d < sizing->cases[c].banks[b].drawer_count; d++) {
                    const struct dw_sized_drawer *drawer = &sizing->cases[c].banks[b].drawers[d];
                    if (drawer->box_width.step_count == 0)
                        continue;
                    if (made != NULL)
                        made[count] = (struct made){layouts->jobs[j], drawer};
                    count++;
                }
    }
    return count;
}

static bool alike(const struct made *a, const struct made *b)
{
    return a->parts->sizing->job->shop.materials == b->parts->sizing->job->shop.materials && dwi_boxes_alike(a->drawer, b->drawer);
}

static bool is_first(const struct made *made, size_t index)
{
    for (size_t i = 0; i < index; i++)
        if (alike(&made[i], &made[index]))
            return false;
    return true;
}

/* "Chest/A 2 to 8, Chest/B 1": the drawers made like this one, those that follow one another in a bank together. */
static const char *others(struct dw_arena *arena, const struct made *made, size_t count, size_t index)
{
    struct dw_text text = dw_text_in(arena);
    for (size_t i = index + 1; i < count; i++) {
        if (!alike(&made[i], &made[index]))
            continue;
        size_t last = i;
        while (last + 1 < count && alike(&made[last + 1], &made[index]) && made[last + 1].parts == made[i].parts &&
               made[last + 1].drawer->case_index == made[i].drawer->case_index && made[last + 1].drawer->bank_index == made[i].drawer->bank_index)
            last++;
        const char *slash = strrchr(made[last].drawer->path, '/');
        dw_text_addf(&text, "%s%s", text.length == 0 ? "" : ", ", made[i].drawer->path);
        if (last > i)
            dw_text_addf(&text, " to %s", slash == NULL ? made[last].drawer->path : slash + 1);
        i = last;
    }
    return text.bytes;
}

enum { NAME_WIDE = 7000, LINE_AIR = 250, JOINTS_BESIDE = 2 };

/* One thing said under the drawing: a bold word and what belongs to it. */
struct said {
    const char *name, *text;
    bool as_it_is;
};

static const char *works_of(struct dw_arena *arena, const struct dw_part *part)
{
    struct dw_text text = dw_text_in(arena);
    for (size_t i = 0; i < part->work_count; i++)
        dw_text_addf(&text, "%s%s", i == 0 ? "" : "; ", part->works[i].words);
    return text.bytes;
}

static struct dwi_type type_of(struct dwi_area room, const struct said *said)
{
    return (struct dwi_type){.most = dwi_wide(room) - NAME_WIDE, .as_it_is = said->as_it_is};
}

static dw_dot height_of(struct dw_arena *arena, struct dwi_area room, const struct said *said)
{
    const dw_dot lines = (dw_dot)dwi_paragraph_lines(arena, type_of(room, said), said->text);
    return lines == 0 ? 0 : lines * dwi_leading(DWI_BODY) + LINE_AIR;
}

static void write_said(struct dwi_pad *pad, struct dwi_area room, dw_dot y, const struct said *said)
{
    if (said->text[0] == '\0')
        return;
    dwi_text(pad, room.x, y + DWI_BODY, (struct dwi_type){.bold = true, .most = NAME_WIDE - 300}, "", said->name);
    dwi_paragraph(pad, room.x + NAME_WIDE, y + DWI_BODY, type_of(room, said), "", said->text);
}

/* The words take what they need at the foot, up to half the page; the drawing has the rest. More joints than can be drawn large beside it have a
 * page of their own. */
static void draw_page(struct dwi_packet *packet, const struct made *made, size_t count, size_t index, const struct dwi_box_facts *facts)
{
    struct dw_arena *arena = packet->arena;
    const char *path = dwi_shorten_path(arena, made[index].drawer->path, DWI_TITLE, true, packet->page_width / 2);
    struct dwi_pad *pad = dwi_page(packet, dw_arena_format(arena, "Box of %s", path));
    const struct dwi_area room = packet->room;
    const struct said said[] = {
        {"Made alike", others(arena, made, count, index), true},
        {"Sides", works_of(arena, facts->side), false},
        {facts->ends[0]->kind == DW_PART_FRONT ? "Front" : "Box front", works_of(arena, facts->ends[0]), false},
        {"Back", works_of(arena, facts->ends[1]), false},
        {"Bottom", works_of(arena, facts->bottom), false},
    };
    const size_t things = sizeof said / sizeof *said;
    dw_dot high = 0;
    for (size_t i = 0; i < things; i++)
        high += height_of(arena, room, &said[i]);
    const dw_dot most = dwi_high(room) / 2;
    dw_dot y = room.y2 - (high < most ? high : most);
    const struct dwi_area drawn = {room.x, room.y, room.x2, y - 1200};
    const bool crowded = dwi_joint_count(facts) > JOINTS_BESIDE;
    if (crowded)
        dwi_draw_exploded(pad, facts, drawn);
    else
        dwi_draw_box(pad, facts, drawn);
    for (size_t i = 0; i < things; i++) {
        const dw_dot needed = height_of(arena, room, &said[i]);
        if (y + needed > room.y2)
            break; /* the parts list says it too */
        write_said(pad, room, y, &said[i]);
        y += needed;
    }
    if (crowded)
        dwi_draw_joints(dwi_page(packet, dw_arena_format(arena, "Joints of %s", path)), facts, packet->room, 2);
}

void dwi_packet_boxes(struct dwi_packet *packet)
{
    const size_t count = all_boxes(packet, NULL);
    struct made *made = dw_arena_alloc(packet->arena, count, sizeof *made);
    (void)all_boxes(packet, made);
    packet->part = "Boxes";
    for (size_t i = 0; i < count; i++) {
        const struct dw_sized_drawer *drawer = made[i].drawer;
        struct dwi_box_facts facts;
        if (is_first(made, i) && dwi_box_facts_of(made[i].parts, drawer->case_index, drawer->bank_index, drawer->drawer_index, &facts))
            draw_page(packet, made, count, i, &facts);
    }
}
