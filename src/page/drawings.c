/* drawings.c - see drawings.h. */
#include "drawings.h"

#include <drawerwright/drawing.h>
#include <drawerwright/files.h>

enum { WIDTH = 72000, HEIGHT = 50000 };

static void draw(const struct dw_purchase *purchase, size_t m, size_t s, struct dw_faults *faults, const char *lead, struct dw_text *out)
{
    struct dw_scene scene;
    const char *bytes = NULL;
    size_t length = 0;
    if (dw_draw_sheet(purchase, m, s, WIDTH, HEIGHT, out->arena, faults, &scene) != DW_DONE ||
        dw_scene_svg(&scene, out->arena, faults, &bytes, &length) != DW_DONE)
        return;
    dw_text_addf(out, "%s{\"name\": ", lead);
    dw_json_quote(purchase->layouts->materials[m].sheets[s].name, out);
    dw_text_add(out, ", \"svg\": ");
    dw_json_quote(bytes, out);
    dw_text_add_char(out, '}');
}

void dwi_drawings_of(const struct dw_purchase *purchase, struct dw_faults *faults, struct dw_text *out)
{
    dw_text_add_char(out, '[');
    const size_t first = out->length;
    for (size_t m = 0; m < purchase->layouts->material_count; m++)
        for (size_t s = 0; s < purchase->layouts->materials[m].sheet_count; s++)
            if (purchase->layouts->materials[m].sheets[s].like == s)
                draw(purchase, m, s, faults, out->length == first ? "" : ", ", out);
    dw_text_add_char(out, ']');
}
