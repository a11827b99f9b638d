/* complete_case.c - what cases and banks do not say: names by number, members by material and style, rails. */
#include <drawerwright/address.h>
#include <drawerwright/keys.h>
#include <drawerwright/memory.h>

#include "completing.h"
#include "fields.h"

/* The thickness of a material that is named, or `otherwise`. */
static dw_length thickness_of(const struct dw_job *job, size_t material, dw_length otherwise)
{
    const bool named = material < job->shop.material_count && job->shop.materials[material].thickness != DW_LENGTH_UNSET;
    return named ? job->shop.materials[material].thickness : otherwise;
}

static void complete_members(const struct dw_job *job, struct dw_case *one)
{
    const enum dw_unit unit = job->unit;
    const bool framed = one->style == DW_FACE_FRAME;
    dwi_if_unset(&one->side, thickness_of(job, one->case_material, dwi_pick(unit, 3 * DW_INCH / 4, 18 * DW_MM)));
    dwi_if_unset(&one->top, one->side);
    dwi_if_unset(&one->bottom, one->side);
    dwi_if_unset(&one->back, thickness_of(job, one->back_material, dwi_pick(unit, DW_INCH / 4, 6 * DW_MM)));
    dwi_if_unset(&one->kick, 0);
    dwi_if_unset(&one->stretcher, 0);
    dwi_if_unset(&one->stile, framed ? dwi_pick(unit, 3 * DW_INCH / 2, 38 * DW_MM) : 0);
    dwi_if_unset(&one->rail_top, one->stile);
    dwi_if_unset(&one->rail_bottom, one->stile);
    dwi_if_unset(&one->frame_thickness,
                 framed ? thickness_of(job, one->frame_material, dwi_pick(unit, 3 * DW_INCH / 4, 20 * DW_MM)) : 0);
    dwi_if_unset(&one->partition, framed ? one->stile : one->side);
    dwi_if_unset(&one->partition_behind, framed ? one->side : 0);
    dwi_if_unset(&one->floor, one->kick + (framed ? one->rail_bottom : one->bottom));
    dwi_if_unset(&one->hinge_room, one->behind_doors ? dwi_pick(unit, 3 * DW_INCH / 4, 19 * DW_MM) : 0);
}

static void complete_case_fit(const struct dwi_completing *completing, struct dw_case *one, const char *address)
{
    if (one->fit.kind == DW_FIT_INHERIT)
        one->fit.kind = one->style == DW_FACE_FRAME ? DW_INSET : DW_FULL_OVERLAY;
    if (one->slide == DW_NO_INDEX && completing->job->shop.slide_count > 0)
        one->slide = 0;
    if (one->slide != DW_NO_INDEX && one->slide >= completing->job->shop.slide_count)
        dw_error(completing->faults, DW_INPUT, "unknown-slide", dw_address_key(completing->arena, address, "slide"),
                 "there is no such slide\nthe place of one in the shop's list");
}

/* A bank's rail: none unless a height or a kind is given. */
static void complete_bank_rail(struct dw_rail *rail, enum dw_unit unit)
{
    if (rail->kind == DW_RAIL_INHERIT)
        rail->kind = rail->height == DW_LENGTH_UNSET || rail->height == 0 ? DW_RAIL_NONE : DW_RAIL_REAL;
    if (rail->kind == DW_RAIL_NONE)
        rail->height = 0;
    dwi_if_unset(&rail->height, dwi_pick(unit, 3 * DW_INCH / 4, 19 * DW_MM));
}

static void complete_drawer_rail(struct dw_rail *rail, const struct dw_rail *above, enum dw_unit unit)
{
    const bool told = rail->kind != DW_RAIL_INHERIT || rail->height != DW_LENGTH_UNSET;
    dwi_if_unset(&rail->cover_above, above->cover_above);
    dwi_if_unset(&rail->cover_below, above->cover_below);
    if (!told) {
        rail->kind = above->kind;
        rail->height = above->height;
        return;
    }
    if (above->kind != DW_RAIL_NONE)
        dwi_if_unset(&rail->height, above->height);
    complete_bank_rail(rail, unit);
}

static void complete_lowest_rail(const struct dwi_completing *completing, struct dw_rail *rail, const char *address)
{
    const bool told = rail->kind == DW_RAIL_REAL || rail->kind == DW_RAIL_DUMMY || (rail->height != DW_LENGTH_UNSET && rail->height > 0);
    if (told)
        dw_warn(completing->faults, "rail-below-lowest", dw_address_key(completing->arena, address, "rail_below"),
                "there is no drawer beneath the lowest one, so its rail is left out\na rail between two drawers");
    rail->kind = DW_RAIL_NONE;
    rail->height = 0;
}

static void complete_bank(const struct dwi_completing *completing, const struct dw_case *one, struct dw_bank *bank, const char *address)
{
    const struct dw_job *job = completing->job;
    struct dw_drawer *drawers = dwi_own_drawers(bank);
    dwi_if_unset(&bank->gap, job->shop.habits.gap);
    dwi_if_unset(&bank->gap_ends, bank->gap);
    dwi_if_unset(&bank->gap_sides, bank->gap);
    complete_bank_rail(&bank->rail, job->unit);
    dwi_if_unset(&bank->graduation_step, bank->graduation == DW_GRADUATED_DIVIDER ? bank->rail.height : DW_LENGTH_UNSET);
    if (bank->width_share == DW_UNSET)
        bank->width_share = 1;
    if ((int64_t)bank->freed_drawer == DW_UNSET)
        bank->freed_drawer = 0;
    const char *list = dw_address_key(completing->arena, address, "drawers");
    for (size_t i = 0; i < bank->drawer_count; i++) {
        const char *place = dw_address_index(completing->arena, list, i);
        if (drawers[i].name == NULL)
            drawers[i].name = dw_arena_format(completing->arena, "%zu", i + 1);
        if (i + 1 < bank->drawer_count)
            complete_drawer_rail(&drawers[i].rail_below, &bank->rail, job->unit);
        else
            complete_lowest_rail(completing, &drawers[i].rail_below, place);
        dwi_complete_drawer(completing, one, bank, &drawers[i], place);
    }
}

void dwi_complete_cases(const struct dwi_completing *completing)
{
    struct dw_case *cases = dwi_own_cases(completing);
    for (size_t c = 0; c < completing->job->case_count; c++) {
        struct dw_case *one = &cases[c];
        const char *address = dw_address_index(completing->arena, "cases", c);
        if (one->name == NULL)
            one->name = dw_arena_format(completing->arena, "Case %zu", c + 1);
        if (one->count == DW_UNSET)
            one->count = 1;
        complete_members(completing->job, one);
        complete_case_fit(completing, one, address);
        const char *list = dw_address_key(completing->arena, address, "banks");
        for (size_t b = 0; b < one->bank_count; b++) {
            struct dw_bank *bank = &dwi_own_banks(one)[b];
            if (bank->name == NULL)
                bank->name = dw_arena_format(completing->arena, "%zu", b + 1);
            complete_bank(completing, one, bank, dw_address_index(completing->arena, list, b));
        }
    }
}
