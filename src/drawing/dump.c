/* dump.c - a scene as lines of text: what golden tests compare. */
#include <drawerwright/memory.h>
#include <drawerwright/text.h>

#include "scene.h"
#include "tone.h"

static void add_look(struct dw_text *out, const struct dw_shape *shape)
{
    if (shape->stroke != 0)
        dw_text_addf(out, " %s %d%s", dwi_tone_word(shape->ink), (int)shape->stroke, shape->dashed ? " dashed" : "");
    if (shape->fill != DW_TONE_NONE)
        dw_text_addf(out, " on %s", dwi_tone_word(shape->fill));
}

static void add_points(struct dw_text *out, const struct dw_shape *shape)
{
    for (size_t i = 0; i < shape->point_count; i++)
        dw_text_addf(out, " %d,%d", (int)shape->points[2 * i], (int)shape->points[2 * i + 1]);
}

static void add_set_text(struct dw_text *out, const struct dw_shape *shape)
{
    static const char *const anchors[] = {[DW_ANCHOR_START] = "from", [DW_ANCHOR_MIDDLE] = "round", [DW_ANCHOR_END] = "to"};
    dw_text_addf(out, "text %s %d,%d size %d%s %s wide %d%s", anchors[shape->anchor], (int)shape->x, (int)shape->y, (int)shape->size,
                 shape->bold ? " bold" : "", dwi_tone_word(shape->ink), (int)shape->width, shape->quarter_turns != 0 ? " upright" : "");
    if (shape->fill != DW_TONE_NONE)
        dw_text_addf(out, " on %s", dwi_tone_word(shape->fill));
    dw_text_addf(out, ": %s", shape->text);
}

static void add_shape(struct dw_text *out, const struct dw_shape *shape)
{
    static const char *const words[] = {[DW_SHAPE_LINE] = "line", [DW_SHAPE_RECTANGLE] = "rectangle", [DW_SHAPE_POLYGON] = "polygon",
                                        [DW_SHAPE_POLYLINE] = "polyline", [DW_SHAPE_CIRCLE] = "circle", [DW_SHAPE_TEXT] = "text"};
    switch (shape->kind) {
    case DW_SHAPE_LINE:
    case DW_SHAPE_RECTANGLE:
        dw_text_addf(out, "%s %d,%d %d,%d", words[shape->kind], (int)shape->x, (int)shape->y, (int)shape->x2, (int)shape->y2);
        add_look(out, shape);
        break;
    case DW_SHAPE_POLYGON:
    case DW_SHAPE_POLYLINE:
        dw_text_add(out, words[shape->kind]);
        add_points(out, shape);
        add_look(out, shape);
        break;
    case DW_SHAPE_CIRCLE:
        dw_text_addf(out, "circle %d,%d radius %d", (int)shape->x, (int)shape->y, (int)shape->x2);
        add_look(out, shape);
        break;
    case DW_SHAPE_TEXT:
        add_set_text(out, shape);
        break;
    }
    if (shape->address[0] != '\0')
        dw_text_addf(out, " [%s]", shape->address);
    dw_text_add_char(out, '\n');
}

struct dumping {
    const struct dw_scene *scene;
    struct dw_arena *arena;
    const char *text;
};

static void dump_body(void *context)
{
    struct dumping *dumping = context;
    struct dw_text out = dw_text_in(dumping->arena);
    dw_text_addf(&out, "scene %d x %d: %s\n", (int)dumping->scene->width, (int)dumping->scene->height, dumping->scene->title);
    for (size_t i = 0; i < dumping->scene->shape_count; i++)
        add_shape(&out, &dumping->scene->shapes[i]);
    dumping->text = out.bytes;
}

enum dw_status dw_scene_dump(const struct dw_scene *scene, struct dw_arena *arena, struct dw_faults *faults, const char **text)
{
    struct dumping dumping = {.scene = scene, .arena = arena};
    if (!dw_arena_guard(arena, dump_body, &dumping)) {
        dw_error(faults, DW_SURROUNDINGS, "out-of-memory", "", "memory ran out while a drawing was listed");
        return DW_SURROUNDINGS;
    }
    *text = dumping.text;
    return DW_DONE;
}
