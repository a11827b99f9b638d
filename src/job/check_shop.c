/* check_shop.c - what contradicts itself in a completed shop. */
#include <string.h>

#include <drawerwright/address.h>
#include <drawerwright/memory.h>

#include "completing.h"

static const char *place(const struct dwi_completing *completing, const char *list, size_t i, const char *key)
{
    return dw_address_key(completing->arena, dw_address_index(completing->arena, list, i), key);
}

/* A name that an earlier one of the list bears too. `name_at` is the place of the name in a thing of `size` bytes. */
static void check_names(const struct dwi_completing *completing, const char *list, const char *key, const void *things, size_t count,
                        size_t size, size_t name_at)
{
    for (size_t i = 1; i < count; i++) {
        const char *name = NULL;
        memcpy(&name, (const char *)things + i * size + name_at, sizeof name);
        for (size_t k = 0; k < i; k++) {
            const char *other = NULL;
            memcpy(&other, (const char *)things + k * size + name_at, sizeof other);
            if (strcmp(name, other) != 0 || name[0] == '\0')
                continue;
            dw_error(completing->faults, DW_INPUT, "used-twice", place(completing, list, i, key),
                     "\"%s\" is used already by %s[%zu]\na name of its own", name, list, k);
            break;
        }
    }
}

static void check_habits(const struct dwi_completing *completing)
{
    const struct dw_habits *habits = &completing->job->shop.habits;
    if (habits->box_less_least > habits->box_less || habits->box_less > habits->box_less_most)
        dw_error(completing->faults, DW_INPUT, "out-of-order", "shop.habits.box_less",
                 "it lies outside box_less_least and box_less_most\nbox_less_least, box_less, box_less_most, each at least the one before");
}

static void check_sheet(const struct dwi_completing *completing, const struct dw_sheet_offer *sheet, const char *address)
{
    const bool room = sheet->trim[0] + sheet->trim[1] < sheet->length && sheet->trim[2] + sheet->trim[3] < sheet->width;
    if (sheet->length != DW_LENGTH_UNSET && sheet->width != DW_LENGTH_UNSET && !room)
        dw_error(completing->faults, DW_INPUT, "all-trim", dw_address_key(completing->arena, address, "trim"),
                 "the trim leaves nothing of the sheet\nless trim than the sheet is large");
    for (size_t i = 1; i < sheet->break_count; i++)
        if (sheet->breaks[i].from <= sheet->breaks[i - 1].from)
            dw_error(completing->faults, DW_INPUT, "out-of-order", dw_address_key(completing->arena, address, "breaks"),
                     "\"from\" does not rise from one break to the next\nbreaks in rising order");
}

/* A batch is some of the sheets that its material is bought in. */
static void check_batches(const struct dwi_completing *completing, const struct dw_material *material, const char *list)
{
    check_names(completing, list, "id", material->batches, material->batch_count, sizeof *material->batches, offsetof(struct dw_batch, id));
    for (size_t i = 0; i < material->batch_count; i++) {
        bool known = false;
        for (size_t k = 0; k < material->sheet_count; k++)
            known = known || strcmp(material->sheets[k].id, material->batches[i].sheet) == 0;
        if (!known)
            dw_error(completing->faults, DW_INPUT, "unknown-sheet", place(completing, list, i, "sheet"),
                     "\"%s\" is none of the material's sheets\nthe id of one of them", material->batches[i].sheet);
    }
}

/* Only the batch of another material is called so (src/run/batches.c). */
static bool is_named_well(const struct dw_shop *shop, const char *id)
{
    for (size_t i = 0; i < shop->material_count; i++)
        if (dw_is_batch_of(id, shop->materials[i].id))
            return true;
    return strstr(id, DW_BATCH_BETWEEN) == NULL;
}

static void check_materials(const struct dwi_completing *completing)
{
    const struct dw_shop *shop = &completing->job->shop;
    check_names(completing, "shop.materials", "id", shop->materials, shop->material_count, sizeof *shop->materials,
                offsetof(struct dw_material, id));
    for (size_t i = 0; i < shop->material_count; i++) {
        const struct dw_material *material = &shop->materials[i];
        const char *list = place(completing, "shop.materials", i, "sheets");
        check_names(completing, list, "id", material->sheets, material->sheet_count, sizeof *material->sheets,
                    offsetof(struct dw_sheet_offer, id));
        for (size_t k = 0; k < material->sheet_count; k++)
            check_sheet(completing, &material->sheets[k], dw_address_index(completing->arena, list, k));
        check_batches(completing, material, place(completing, "shop.materials", i, "batches"));
        if (!is_named_well(shop, material->id))
            dw_error(completing->faults, DW_INPUT, "reserved", place(completing, "shop.materials", i, "id"),
                     "\"" DW_BATCH_BETWEEN "\" stands between a material and its batch\nan id without it");
    }
}

static void check_slides(const struct dwi_completing *completing)
{
    const struct dw_shop *shop = &completing->job->shop;
    check_names(completing, "shop.slides", "id", shop->slides, shop->slide_count, sizeof *shop->slides, offsetof(struct dw_slide, id));
    for (size_t i = 0; i < shop->slide_count; i++) {
        const struct dw_slide *slide = &shop->slides[i];
        const bool bought = slide->kind != DW_HAND_FITTED && slide->kind != DW_RUNNER;
        if (bought && slide->length_count == 0)
            dw_error(completing->faults, DW_INPUT, "missing", place(completing, "shop.slides", i, "lengths"),
                     "a slide is bought by its length\nthe lengths on offer, such as [12, 14, 16]");
        for (size_t k = 1; k < slide->length_count; k++)
            if (slide->lengths[k].length <= slide->lengths[k - 1].length)
                dw_error(completing->faults, DW_INPUT, "out-of-order",
                         dw_address_index(completing->arena, place(completing, "shop.slides", i, "lengths"), k),
                         "it is no longer than the one before\nlengths in rising order");
    }
}

/* A supplier who is named by something but not listed is taken to deliver for nothing; worth a word when others are listed. */
static void check_supplier(const struct dwi_completing *completing, const char *supplier, const char *address)
{
    const struct dw_shop *shop = &completing->job->shop;
    if (shop->supplier_count == 0 || supplier[0] == '\0')
        return;
    for (size_t i = 0; i < shop->supplier_count; i++)
        if (strcmp(shop->suppliers[i].name, supplier) == 0)
            return;
    dw_warn(completing->faults, "unknown-supplier", address,
            "\"%s\" is not among the suppliers, so its delivery counts as nothing\na line of its own in shop.suppliers", supplier);
}

static void check_suppliers(const struct dwi_completing *completing)
{
    const struct dw_shop *shop = &completing->job->shop;
    check_names(completing, "shop.suppliers", "name", shop->suppliers, shop->supplier_count, sizeof *shop->suppliers,
                offsetof(struct dw_supplier, name));
    for (size_t i = 0; i < shop->material_count; i++) {
        const char *list = place(completing, "shop.materials", i, "sheets");
        for (size_t k = 0; k < shop->materials[i].sheet_count; k++)
            check_supplier(completing, shop->materials[i].sheets[k].supplier, place(completing, list, k, "supplier"));
    }
    for (size_t i = 0; i < shop->hardware_count; i++)
        check_supplier(completing, shop->hardware[i].supplier, place(completing, "shop.hardware", i, "supplier"));
    for (size_t i = 0; i < shop->banding_count; i++)
        check_supplier(completing, shop->bandings[i].supplier, place(completing, "shop.banding", i, "supplier"));
}

void dwi_check_shop(const struct dwi_completing *completing)
{
    const struct dw_shop *shop = &completing->job->shop;
    check_habits(completing);
    check_materials(completing);
    check_slides(completing);
    check_names(completing, "shop.hardware", "id", shop->hardware, shop->hardware_count, sizeof *shop->hardware,
                offsetof(struct dw_hardware, id));
    check_names(completing, "shop.banding", "id", shop->bandings, shop->banding_count, sizeof *shop->bandings,
                offsetof(struct dw_banding, id));
    check_suppliers(completing);
}
