/* fuzz_cut.c - a cutting request is refused with a fault, or answered by a plan that the checker passes, whatever its numbers are.
 *
 * The bytes are drawn from the front, zero when they run out: a few parts, a few sheets, kerf, turns, first cut. Most draws make sizes of a shop; one bit
 * in each makes it a wild number, as a library user might pass.
 */
#include "fuzz.h"

#include <stdlib.h>

#include <drawerwright/cutting.h>
#include <drawerwright/fault.h>
#include <drawerwright/memory.h>

enum { PARTS = 6, SHEETS = 3, LITTLE_WORK = 20000 };

struct bytes {
    const uint8_t *data;
    size_t left;
};

static uint8_t draw(struct bytes *bytes)
{
    if (bytes->left == 0)
        return 0;
    bytes->left--;
    return *bytes->data++;
}

static int64_t draw_wild(struct bytes *bytes)
{
    uint64_t value = 0;
    for (size_t i = 0; i < sizeof value; i++)
        value = value << 8 | draw(bytes);
    return (int64_t)value;
}

/* 1 to `most` eighths of an inch; wild once in a while. */
static dw_length draw_size(struct bytes *bytes, unsigned most)
{
    const unsigned high = draw(bytes);
    if (high == 0xFF)
        return draw_wild(bytes);
    return (dw_length)((high << 8 | draw(bytes)) % most + 1) * 50800;
}

static int64_t draw_count(struct bytes *bytes, int least, int most)
{
    const int value = draw(bytes);
    return value == 0xFF ? draw_wild(bytes) : least + value % (most - least + 1);
}

static void draw_sheet(struct bytes *bytes, struct dw_cut_sheet *sheet)
{
    sheet->length = draw_size(bytes, 768);
    sheet->width = draw_size(bytes, 384);
    for (size_t edge = 0; edge < 4; edge++)
        sheet->trim[edge] = (draw(bytes) & 3) == 3 ? draw_size(bytes, 8) : 0;
    sheet->price = draw_count(bytes, 0, 200);
    sheet->value = sheet->price > 0 ? sheet->price : draw_count(bytes, 1, 200);
    sheet->count = draw_count(bytes, -1, 3);
}

static void draw_part(struct bytes *bytes, struct dw_cut_part *part)
{
    part->length = draw_size(bytes, 512);
    part->width = draw_size(bytes, 256);
    part->count = draw_count(bytes, 1, 6);
    part->turn = (draw(bytes) & 1) != 0;
}

/* What must hold of any answer. */
static void check(const struct dw_cut_request *request, enum dw_status status, const struct dw_cut_plan *plan, struct dw_faults *faults)
{
    const bool refused = status == DW_INPUT || status == DW_IMPOSSIBLE;
    if ((!refused && status != DW_DONE) || refused != (faults->errors > 0) || refused != (plan == NULL))
        abort();
    if (plan != NULL && plan->outcome == DW_CUT_PLAN && !dw_cut_check(request, plan, faults))
        abort();
    if (plan != NULL && plan->proved && (plan->outcome != DW_CUT_PLAN || plan->cost != plan->lower_bound))
        abort();
}

int fuzz_cut(const uint8_t *data, size_t size)
{
    struct bytes bytes = {.data = data, .left = size};
    struct dw_cut_part parts[PARTS];
    struct dw_cut_sheet sheets[SHEETS];
    struct dw_cut_request request = {.parts = parts, .sheets = sheets, .patience = DW_SHORT, .work = LITTLE_WORK};
    request.part_count = draw(&bytes) % PARTS + 1u;
    request.sheet_count = draw(&bytes) % SHEETS + 1u;
    request.kerf = draw(&bytes) == 0 ? 0 : draw_size(&bytes, 2);
    request.turns = draw(&bytes) % 4;
    request.first_cut = draw(&bytes) % 3 - 1;
    request.seed = draw(&bytes);
    for (size_t s = 0; s < request.sheet_count; s++)
        draw_sheet(&bytes, &sheets[s]);
    for (size_t p = 0; p < request.part_count; p++)
        draw_part(&bytes, &parts[p]);
    struct dw_arena *arena = dw_arena_new();
    struct dw_faults *faults = dw_faults_new();
    const struct dw_cut_plan *plan = NULL;
    if (arena != NULL && faults != NULL) {
        const enum dw_status status = dw_cut_solve(&request, NULL, arena, faults, &plan);
        check(&request, status, plan, faults);
    }
    dw_faults_free(faults);
    dw_arena_free(arena);
    return 0;
}
