/* check_cases.c - what contradicts itself in completed cases, banks and drawers, and what nobody said. */
#include <string.h>

#include <drawerwright/address.h>
#include <drawerwright/memory.h>

#include "completing.h"

enum { DRAWERS_MOST = 100, DRAWERS_IN_ALL_MOST = 2000, PIECES_MOST = 20000 };

static const char *key(const struct dwi_completing *completing, const char *address, const char *name)
{
    return dw_address_key(completing->arena, address, name);
}

/* ---- the size of a case ----------------------------------------------------------------------------------- */

struct dimension {
    const char *name;
    dw_length outside;
    struct dw_readings opening;
    bool by_banks; /* every bank has its own */
};

static bool all_banks(const struct dw_case *one, size_t readings_at)
{
    for (size_t i = 0; i < one->bank_count; i++) {
        struct dw_readings readings;
        memcpy(&readings, (const char *)&one->banks[i] + readings_at, sizeof readings);
        if (readings.count == 0)
            return false;
    }
    return one->bank_count > 0;
}

/* A case's size is given by its outside or by its opening, in all three dimensions. Beside the outside an opening is what was measured when the case
 * stood (src/sizing/case.c), and may be given of one dimension only. */
static void check_size(const struct dwi_completing *completing, const struct dw_case *one, const char *address)
{
    const struct dimension dimensions[] = {
        {"width", one->width, one->opening_width, all_banks(one, offsetof(struct dw_bank, width))},
        {"height", one->height, one->opening_height, all_banks(one, offsetof(struct dw_bank, height))},
        {"depth", one->depth, one->opening_depth, all_banks(one, offsetof(struct dw_bank, depth))},
    };
    bool outside = false;
    for (size_t i = 0; i < 3; i++)
        outside = outside || dimensions[i].outside != DW_LENGTH_UNSET;
    for (size_t i = 0; i < 3; i++) {
        const struct dimension *dimension = &dimensions[i];
        const bool given = outside ? dimension->outside != DW_LENGTH_UNSET : dimension->opening.count > 0 || dimension->by_banks;
        if (!given)
            dw_error(completing->faults, DW_INPUT, "missing", key(completing, key(completing, address, outside ? "outside" : "opening"), dimension->name),
                     "it is missing\nthe %s of the case's %s", dimension->name, outside ? "outside" : "opening");
    }
}

static void check_diagonals(const struct dwi_completing *completing, struct dw_readings diagonals, const char *address)
{
    if (diagonals.count != 0 && diagonals.count != 2)
        dw_error(completing->faults, DW_INPUT, "diagonals", key(completing, address, "diagonals"),
                 "%zu diagonals are given\nboth of them, or none", diagonals.count);
}

/* ---- what drawers are made of ----------------------------------------------------------------------------- */

/* Wants of a case's drawers that are told once a case, not once a drawer. */
struct wants {
    bool slide, sides, bottom, front;
};

static bool is_material(const struct dw_job *job, size_t material)
{
    return material < job->shop.material_count;
}

static void note_wants(const struct dw_job *job, const struct dw_drawer *drawer, struct wants *wants)
{
    if (drawer->fill != DW_FILL_DRAWER)
        return;
    wants->slide = wants->slide || drawer->slide == DW_NO_INDEX;
    wants->sides = wants->sides || !is_material(job, drawer->box.side_material);
    wants->bottom = wants->bottom || !is_material(job, drawer->box.bottom_material);
    wants->front = wants->front || !is_material(job, drawer->front.material);
}

static void report_wants(const struct dwi_completing *completing, const struct wants *wants, const char *address)
{
    if (wants->slide)
        dw_error(completing->faults, DW_INPUT, "missing", key(completing, address, "slide"),
                 "the drawers have nothing to run on\na slide in shop.slides (one of kind \"hand-fitted\" for drawers without any)");
    if (wants->sides)
        dw_error(completing->faults, DW_INPUT, "missing", key(completing, address, "box.sides"),
                 "no material is named for the sides of boxes\nthe id of a material in shop.materials");
    if (wants->bottom)
        dw_error(completing->faults, DW_INPUT, "missing", key(completing, address, "box.bottom"),
                 "no material is named for bottoms\nthe id of a material in shop.materials");
    if (wants->front)
        dw_error(completing->faults, DW_INPUT, "missing", key(completing, address, "front.material"),
                 "no material is named for fronts\nthe id of a material in shop.materials");
}

static void check_box_heights(const struct dwi_completing *completing, const struct dw_box *box, const char *address)
{
    const bool both = box->height_least != DW_LENGTH_UNSET && box->height_most != DW_LENGTH_UNSET;
    const bool crossed = both && box->height_least > box->height_most;
    const bool under = box->height != DW_LENGTH_UNSET && box->height_least != DW_LENGTH_UNSET && box->height < box->height_least;
    const bool over = box->height != DW_LENGTH_UNSET && box->height_most != DW_LENGTH_UNSET && box->height > box->height_most;
    if (crossed || under || over)
        dw_error(completing->faults, DW_INPUT, "out-of-order", key(completing, address, "box.height"),
                 "the heights wished for the box contradict each other\nheight_least, height, height_most, each at least the one before");
}

static void check_height(const struct dwi_completing *completing, const struct dw_height *height, const char *address)
{
    const bool length = height->rule == DW_HEIGHT_FIXED || height->rule == DW_HEIGHT_INSIDE;
    if (length && height->length == DW_LENGTH_UNSET)
        dw_error(completing->faults, DW_INPUT, "missing", key(completing, address, "height"), "its length is missing\nthe length");
    if (height->rule == DW_HEIGHT_SYSTEM_32 && height->modules == DW_UNSET)
        dw_error(completing->faults, DW_INPUT, "missing", key(completing, address, "height"),
                 "the number of 32 mm steps is missing\nthe number of steps");
}

static void check_drawer(const struct dwi_completing *completing, const struct dw_drawer *drawer, const char *address)
{
    const struct dw_job *job = completing->job;
    check_height(completing, &drawer->height, address);
    check_box_heights(completing, &drawer->box, address);
    const bool known = is_material(job, drawer->front.material);
    if (drawer->fit.kind == DW_LIPPED && known && drawer->fit.lip >= job->shop.materials[drawer->front.material].thickness)
        dw_error(completing->faults, DW_INPUT, "lip-too-thick", key(completing, address, "fit.lip"),
                 "the lip is as thick as the front, which leaves no rabbet\nless than the front's thickness");
    if (drawer->slide != DW_NO_INDEX && drawer->slide >= job->shop.slide_count)
        dw_error(completing->faults, DW_INPUT, "unknown-slide", key(completing, address, "slide"),
                 "there is no such slide\nthe place of one in the shop's list");
}

/* ---- banks ------------------------------------------------------------------------------------------------ */

static void check_graduation(const struct dwi_completing *completing, const struct dw_bank *bank, const char *address)
{
    const bool step = bank->graduation == DW_GRADUATED_STEP || bank->graduation == DW_GRADUATED_DIVIDER;
    if (step && (bank->graduation_step == DW_LENGTH_UNSET || bank->graduation_step <= 0))
        dw_error(completing->faults, DW_INPUT, "missing", key(completing, address, "graduation"),
                 "there is no step to grow by\n%s", bank->graduation == DW_GRADUATED_DIVIDER ? "a rail for the bank, whose height is the step" : "a step");
    if (bank->graduation == DW_GRADUATED_RATIO && bank->graduation_ratio == DW_UNSET)
        dw_error(completing->faults, DW_INPUT, "missing", key(completing, address, "graduation"), "there is no ratio to grow by\na ratio such as 120 %%");
}

static void check_bank(const struct dwi_completing *completing, const struct dw_bank *bank, struct wants *wants, const char *address)
{
    check_diagonals(completing, bank->diagonals, address);
    check_graduation(completing, bank, address);
    if (bank->drawer_count > DRAWERS_MOST)
        dw_error(completing->faults, DW_INPUT, "too-many", key(completing, address, "drawers"),
                 "%zu drawers stand in one bank\nat most %d", bank->drawer_count, DRAWERS_MOST);
    if (bank->freed == DW_FREED_DRAWER && bank->freed_drawer >= bank->drawer_count)
        dw_error(completing->faults, DW_INPUT, "no-such-drawer", key(completing, address, "freed.drawer"),
                 "there is no drawer %zu in the bank\nfrom 1 to %zu", bank->freed_drawer + 1, bank->drawer_count);
    const char *list = key(completing, address, "drawers");
    for (size_t i = 0; i < bank->drawer_count && i < DRAWERS_MOST; i++) {
        const char *place = dw_address_index(completing->arena, list, i);
        check_drawer(completing, &bank->drawers[i], place);
        note_wants(completing->job, &bank->drawers[i], wants);
        for (size_t k = 0; k < i; k++)
            if (strcmp(bank->drawers[i].name, bank->drawers[k].name) == 0)
                dw_error(completing->faults, DW_INPUT, "used-twice", key(completing, place, "name"),
                         "\"%s\" is used already by drawer %zu of the bank\na name of its own", bank->drawers[i].name, k + 1);
    }
}

static void check_extras(const struct dwi_completing *completing)
{
    const struct dw_job *job = completing->job;
    for (size_t i = 0; i < job->extra_count; i++)
        if (job->extras[i].material != DW_NO_INDEX && !is_material(job, job->extras[i].material))
            dw_error(completing->faults, DW_INPUT, "unknown-material", key(completing, dw_address_index(completing->arena, "parts", i), "material"),
                     "there is no such material\nthe place of one in the shop's list");
}

/* Counts multiply: a thousand cases of a hundred drawers are no job for a small shop, nor for the search. */
static void check_totals(const struct dwi_completing *completing)
{
    const struct dw_job *job = completing->job;
    int64_t drawers = 0;
    int64_t pieces = 0;
    for (size_t c = 0; c < job->case_count; c++)
        for (size_t b = 0; b < job->cases[c].bank_count; b++)
            drawers += (int64_t)job->cases[c].banks[b].drawer_count * dw_least(job->cases[c].count, DRAWERS_IN_ALL_MOST);
    for (size_t i = 0; i < job->extra_count; i++)
        pieces += dw_least(job->extras[i].count, PIECES_MOST + 1);
    if (drawers > DRAWERS_IN_ALL_MOST)
        dw_error(completing->faults, DW_INPUT, "too-many", "cases", "%lld drawers are asked for in all\nat most %d in one job, or several jobs",
                 (long long)drawers, DRAWERS_IN_ALL_MOST);
    if (pieces > PIECES_MOST)
        dw_error(completing->faults, DW_INPUT, "too-many", "parts", "more than %d pieces are asked for in all\nat most so many in one job, or several jobs", PIECES_MOST);
}

void dwi_check_cases(const struct dwi_completing *completing)
{
    const struct dw_job *job = completing->job;
    for (size_t c = 0; c < job->case_count; c++) {
        const struct dw_case *one = &job->cases[c];
        const char *address = dw_address_index(completing->arena, "cases", c);
        struct wants wants = {.slide = false};
        check_size(completing, one, address);
        check_diagonals(completing, one->opening_diagonals, key(completing, address, "opening"));
        for (size_t k = 0; k < c; k++)
            if (strcmp(one->name, job->cases[k].name) == 0)
                dw_error(completing->faults, DW_INPUT, "used-twice", key(completing, address, "name"),
                         "\"%s\" is used already by cases[%zu]\na name of its own, or one case with a count", one->name, k);
        for (size_t b = 0; b < one->bank_count; b++) {
            const char *place = dw_address_index(completing->arena, key(completing, address, "banks"), b);
            check_bank(completing, &one->banks[b], &wants, place);
            for (size_t k = 0; k < b; k++)
                if (strcmp(one->banks[b].name, one->banks[k].name) == 0)
                    dw_error(completing->faults, DW_INPUT, "used-twice", key(completing, place, "name"),
                             "\"%s\" is used already by bank %zu of the case\na name of its own", one->banks[b].name, k + 1);
        }
        report_wants(completing, &wants, address);
    }
    check_extras(completing);
    check_totals(completing);
}
