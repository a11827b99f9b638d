/* complete_shop.c - what a shop does not say: names from ids, thickness from thickness, kerf and trim from its habits, and the figures
 * of a slide from its kind. */
#include <string.h>

#include <drawerwright/keys.h>
#include <drawerwright/memory.h>

#include "completing.h"
#include "fields.h"

static void name_from_id(const char **id, const char **name)
{
    if (*id == NULL)
        *id = "";
    if (*name == NULL)
        *name = *id;
}

static void complete_sheet(const struct dw_habits *habits, struct dw_sheet_offer *sheet, enum dw_unit unit)
{
    dwi_fill_defaults(&dw_sheet_object, sheet, unit);
    if (sheet->id == NULL)
        sheet->id = "";
    for (int edge = 0; edge < 4; edge++)
        dwi_if_unset(&sheet->trim[edge], habits->trim);
    if (sheet->count == DW_UNSET)
        sheet->count = DW_NO_LIMIT;
}

static void complete_material(const struct dw_habits *habits, struct dw_material *material, enum dw_unit unit)
{
    dwi_fill_defaults(&dw_material_object, material, unit);
    name_from_id(&material->id, &material->name);
    dwi_if_unset(&material->nominal, material->thickness);
    dwi_if_unset(&material->kerf, habits->kerf);
    dwi_if_unset(&material->keep_length, habits->keep_length);
    dwi_if_unset(&material->keep_width, habits->keep_width);
    if (material->grained == DW_GRAIN_BY_KIND)
        material->grained = material->kind == DW_PLYWOOD || material->kind == DW_SOLID_WOOD ? DW_GRAINED : DW_PLAIN;
    struct dw_sheet_offer *sheets = NULL;
    memcpy(&sheets, &material->sheets, sizeof sheets);
    for (size_t i = 0; i < material->sheet_count; i++)
        complete_sheet(habits, &sheets[i], unit);
    struct dw_batch *batches = NULL;
    memcpy(&batches, &material->batches, sizeof batches);
    for (size_t i = 0; i < material->batch_count; i++) {
        if (batches[i].id == NULL)
            batches[i].id = "";
        if (batches[i].sheet == NULL)
            batches[i].sheet = material->sheet_count > 0 ? material->sheets[0].id : "";
    }
}

/* The figures of each kind of slide; sources stand beside the rows of dw_slide_object, which say the same in words. */
struct slide_rule {
    dw_length clearance, clearance_more, inside_less, side_most, recess, below, above, box_least, rear;
};

static const struct slide_rule inch_rules[] = {
    [DW_SIDE_MOUNT] = {.clearance = DW_INCH / 2, .clearance_more = DW_INCH / 16, .below = DW_INCH / 4, .above = DW_INCH / 2,
                       .box_least = 2 * DW_INCH, .rear = 3 * DW_INCH / 8},
    [DW_UNDERMOUNT] = {.inside_less = 42 * DW_MM, .side_most = 16 * DW_MM, .recess = DW_INCH / 2, .below = 9 * DW_INCH / 16,
                       .above = DW_INCH / 4, .box_least = 5 * DW_INCH / 2, .rear = DW_INCH / 2},
    [DW_CENTER_MOUNT] = {.clearance = DW_INCH / 16, .below = DW_INCH / 4, .above = DW_INCH / 4, .box_least = DW_INCH,
                         .rear = DW_INCH / 4},
    [DW_RUNNER] = {.clearance = DW_INCH / 32, .above = DW_INCH / 16, .box_least = DW_INCH, .rear = DW_INCH / 4},
    [DW_HAND_FITTED] = {.clearance = DW_INCH / 32, .above = DW_INCH / 16, .box_least = DW_INCH, .rear = DW_INCH / 4},
};

static const struct slide_rule metric_rules[] = {
    [DW_SIDE_MOUNT] = {.clearance = 127 * DW_MM / 10, .clearance_more = 16 * DW_MM / 10, .below = 6 * DW_MM, .above = 13 * DW_MM,
                       .box_least = 50 * DW_MM, .rear = 10 * DW_MM},
    [DW_UNDERMOUNT] = {.inside_less = 42 * DW_MM, .side_most = 16 * DW_MM, .recess = 127 * DW_MM / 10, .below = 143 * DW_MM / 10,
                       .above = 64 * DW_MM / 10, .box_least = 64 * DW_MM, .rear = 13 * DW_MM},
    [DW_CENTER_MOUNT] = {.clearance = 15 * DW_MM / 10, .below = 6 * DW_MM, .above = 6 * DW_MM, .box_least = 25 * DW_MM,
                         .rear = 6 * DW_MM},
    [DW_RUNNER] = {.clearance = DW_MM, .above = 15 * DW_MM / 10, .box_least = 25 * DW_MM, .rear = 6 * DW_MM},
    [DW_HAND_FITTED] = {.clearance = DW_MM, .above = 15 * DW_MM / 10, .box_least = 25 * DW_MM, .rear = 6 * DW_MM},
};

static void complete_slide(struct dw_slide *slide, enum dw_unit unit)
{
    const struct slide_rule *rule = unit == DW_IN ? &inch_rules[slide->kind] : &metric_rules[slide->kind];
    dwi_fill_defaults(&dw_slide_object, slide, unit);
    name_from_id(&slide->id, &slide->name);
    dwi_if_unset(&slide->clearance, rule->clearance);
    dwi_if_unset(&slide->clearance_more, rule->clearance_more);
    dwi_if_unset(&slide->inside_less, rule->inside_less);
    dwi_if_unset(&slide->side_most, rule->side_most);
    dwi_if_unset(&slide->recess, rule->recess);
    dwi_if_unset(&slide->below, rule->below);
    dwi_if_unset(&slide->above, rule->above);
    dwi_if_unset(&slide->box_least, rule->box_least);
    dwi_if_unset(&slide->rear, rule->rear);
    struct dw_slide_length *lengths = NULL;
    memcpy(&lengths, &slide->lengths, sizeof lengths);
    for (size_t i = 0; i < slide->length_count; i++)
        dwi_fill_defaults(&dw_slide_length_object, &lengths[i], unit);
}

static void complete_saws(const struct dwi_completing *completing, enum dw_unit unit)
{
    struct dw_saw *saws = NULL;
    memcpy(&saws, &completing->job->shop.saws, sizeof saws);
    for (size_t i = 0; i < completing->job->shop.saw_count; i++) {
        dwi_fill_defaults(&dw_saw_object, &saws[i], unit);
        dwi_if_unset(&saws[i].kerf, completing->job->shop.habits.kerf);
        if (saws[i].name == NULL)
            saws[i].name = dw_arena_format(completing->arena, "%s saw",
                                           dw_word_for(dw_object_key(&dw_saw_object, "kind")->words, (int)saws[i].kind));
    }
}

/* Hardware, banding, suppliers. */
static void complete_goods(const struct dwi_completing *completing, enum dw_unit unit)
{
    const struct dw_shop *shop = &completing->job->shop;
    struct dw_hardware *hardware = NULL;
    struct dw_banding *bandings = NULL;
    struct dw_supplier *suppliers = NULL;
    memcpy(&hardware, &shop->hardware, sizeof hardware);
    memcpy(&bandings, &shop->bandings, sizeof bandings);
    memcpy(&suppliers, &shop->suppliers, sizeof suppliers);
    for (size_t i = 0; i < shop->hardware_count; i++) {
        dwi_fill_defaults(&dw_hardware_object, &hardware[i], unit);
        name_from_id(&hardware[i].id, &hardware[i].name);
    }
    for (size_t i = 0; i < shop->banding_count; i++) {
        dwi_fill_defaults(&dw_banding_object, &bandings[i], unit);
        name_from_id(&bandings[i].id, &bandings[i].name);
    }
    for (size_t i = 0; i < shop->supplier_count; i++) {
        dwi_fill_defaults(&dw_supplier_object, &suppliers[i], unit);
        if (suppliers[i].name == NULL)
            suppliers[i].name = "";
    }
}

void dwi_complete_shop(const struct dwi_completing *completing)
{
    struct dw_shop *shop = &completing->job->shop;
    struct dw_slide *slides = NULL;
    dwi_fill_defaults(&dw_shop_object, shop, shop->unit);
    dwi_if_unset(&shop->habits.reveal_neighbor, shop->habits.gap / 2);
    for (size_t i = 0; i < shop->material_count; i++)
        complete_material(&shop->habits, &dwi_own_materials(completing)[i], shop->unit);
    memcpy(&slides, &shop->slides, sizeof slides);
    for (size_t i = 0; i < shop->slide_count; i++)
        complete_slide(&slides[i], shop->unit);
    complete_saws(completing, shop->unit);
    complete_goods(completing, shop->unit);
}
