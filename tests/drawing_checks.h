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
    if (strstr(shape->text, "\xC3\x97") != NULL && strlen(shape->text) > 3 && strcmp(shape->text + strlen(shape->text) - 3, "\xE2\x80\xA6") == 0)
        breaches += complain(scene, shape, "is a size cut short");
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

/* The box of one stretch of a leader: all of them are level or upright, but for the slanted ends outside the sheet. */
static inline struct dwi_area stretch_of(const struct dw_shape *line, size_t i)
{
    const dw_dot *p = &line->points[2 * i];
    return (struct dwi_area){p[0] < p[2] ? p[0] : p[2], p[1] < p[3] ? p[1] : p[3], p[0] < p[2] ? p[2] : p[0], p[1] < p[3] ? p[3] : p[1]};
}

static inline bool is_leader(const struct dw_shape *shape)
{
    return shape->kind == DW_SHAPE_POLYLINE && shape->ink == DW_TONE_INK;
}

static inline bool is_square_on(struct dwi_area stretch)
{
    return stretch.x == stretch.x2 || stretch.y == stretch.y2;
}

static inline bool touch(struct dwi_area a, struct dwi_area b)
{
    return a.x <= b.x2 && b.x <= a.x2 && a.y <= b.y2 && b.y <= a.y2;
}

/* On a sheet: no leader runs over a text or another leader. */
static inline size_t check_leaders(const struct dw_scene *scene)
{
    size_t breaches = 0;
    for (size_t i = 0; i < scene->shape_count; i++) {
        const struct dw_shape *line = &scene->shapes[i];
        for (size_t p = 0; is_leader(line) && p + 1 < line->point_count; p++) {
            const struct dwi_area stretch = stretch_of(line, p);
            for (size_t j = 0; j < scene->shape_count; j++) {
                const struct dw_shape *other = &scene->shapes[j];
                if (other->kind == DW_SHAPE_TEXT && is_square_on(stretch) && touch(stretch, dwi_text_area(other)))
                    breaches += complain(scene, other, "is crossed by a leader");
                for (size_t q = 0; j > i && is_leader(other) && is_square_on(stretch) && q + 1 < other->point_count; q++) {
                    const bool goes_on = line->points[2 * line->point_count - 2] == other->points[0] && line->points[2 * line->point_count - 1] == other->points[1];
                    if (is_square_on(stretch_of(other, q)) && touch(stretch, stretch_of(other, q)) && !goes_on)
                        breaches += complain(scene, other, "crosses another leader");
                }
            }
        }
    }
    return breaches;
}

/* Breaches found; each is printed. */
static inline size_t check_scene(const struct dw_scene *scene)
{
    size_t breaches = check_overlaps(scene) + (strncmp(scene->title, "Sheet", 5) == 0 ? check_leaders(scene) : 0);
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
