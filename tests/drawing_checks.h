/* drawing_checks.h - what must hold of every scene: nothing leaves the page, no two texts overlap, no text leaves its part, nothing is set smaller than
 * 7 points. Include after cmocka.h. */
#ifndef DW_TESTS_DRAWING_CHECKS_H
#define DW_TESTS_DRAWING_CHECKS_H

#include <string.h>

#include <drawerwright/drawing.h>

#include "drawing/textfit.h"

static inline bool area_inside(struct dwi_area inner, struct dwi_area outer)
{
    return inner.x >= outer.x && inner.y >= outer.y && inner.x2 <= outer.x2 && inner.y2 <= outer.y2;
}

static inline size_t complain(const struct dw_scene *scene, const struct dw_shape *shape, const char *what)
{
    print_error("%s: \"%s\" at %d,%d %s\n", scene->title, shape->text, (int)shape->x, (int)shape->y, what);
    return 1;
}

static inline size_t check_text(const struct dw_scene *scene, const struct dw_shape *shape)
{
    const struct dwi_area at = dwi_text_area(shape);
    size_t breaches = 0;
    if (!area_inside(at, (struct dwi_area){0, 0, scene->width, scene->height}))
        breaches += complain(scene, shape, "leaves the page");
    if (shape->size < DWI_SMALLEST)
        breaches += complain(scene, shape, "is too small");
    if (shape->width != dwi_text_width(shape->text, shape->size, shape->bold))
        breaches += complain(scene, shape, "is not as wide as it says");
    if (shape->within != 0) {
        const struct dw_shape *part = &scene->shapes[shape->within - 1];
        if (part->kind != DW_SHAPE_RECTANGLE || !area_inside(at, (struct dwi_area){part->x, part->y, part->x2, part->y2}))
            breaches += complain(scene, shape, "leaves its part");
    }
    return breaches;
}

static inline size_t check_overlaps(const struct dw_scene *scene)
{
    size_t breaches = 0;
    for (size_t i = 0; i < scene->shape_count; i++) {
        if (scene->shapes[i].kind != DW_SHAPE_TEXT)
            continue;
        const struct dwi_area a = dwi_text_area(&scene->shapes[i]);
        for (size_t j = i + 1; j < scene->shape_count; j++)
            if (scene->shapes[j].kind == DW_SHAPE_TEXT && dwi_areas_meet(a, dwi_text_area(&scene->shapes[j]))) {
                print_error("  over \"%s\": ", scene->shapes[i].text);
                breaches += complain(scene, &scene->shapes[j], "overlaps");
            }
    }
    return breaches;
}

static inline bool shape_on_page(const struct dw_scene *scene, const struct dw_shape *shape)
{
    const struct dwi_area page = {0, 0, scene->width, scene->height};
    for (size_t i = 0; i < shape->point_count; i++)
        if (!area_inside((struct dwi_area){shape->points[2 * i], shape->points[2 * i + 1], shape->points[2 * i], shape->points[2 * i + 1]}, page))
            return false;
    if (shape->kind == DW_SHAPE_LINE || shape->kind == DW_SHAPE_RECTANGLE)
        return area_inside((struct dwi_area){shape->x, shape->y, shape->x, shape->y}, page) &&
               area_inside((struct dwi_area){shape->x2, shape->y2, shape->x2, shape->y2}, page);
    return true;
}

/* Breaches found; each is printed. */
static inline size_t check_scene(const struct dw_scene *scene)
{
    size_t breaches = check_overlaps(scene);
    for (size_t i = 0; i < scene->shape_count; i++) {
        if (scene->shapes[i].kind == DW_SHAPE_TEXT)
            breaches += check_text(scene, &scene->shapes[i]);
        else if (!shape_on_page(scene, &scene->shapes[i]))
            breaches += complain(scene, &scene->shapes[i], "a line or shape leaves the page");
    }
    return breaches;
}

static inline size_t check_scenes(const struct dw_scenes *scenes)
{
    size_t breaches = 0;
    for (size_t i = 0; i < scenes->count; i++)
        breaches += check_scene(&scenes->at[i]);
    return breaches;
}

/* Is there a text that contains this? */
static inline bool says(const struct dw_scenes *scenes, const char *words)
{
    for (size_t i = 0; i < scenes->count; i++)
        for (size_t s = 0; s < scenes->at[i].shape_count; s++)
            if (strstr(scenes->at[i].shapes[s].text, words) != NULL)
                return true;
    return false;
}

#endif
