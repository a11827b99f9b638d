/* objects.c - the tables of keys, walked from the job down. */
#include "objects.h"

#include <drawerwright/memory.h>

struct list {
    struct dw_arena *arena;
    const struct dw_object **at;
    size_t count, capacity;
};

static void gather(struct list *list, const struct dw_object *object)
{
    for (size_t i = 0; i < list->count; i++)
        if (list->at[i] == object)
            return;
    list->at = dw_arena_grow(list->arena, list->at, list->count, &list->capacity, sizeof *list->at);
    list->at[list->count++] = object;
    for (size_t i = 0; i < object->count; i++)
        if (object->keys[i].object != NULL)
            gather(list, object->keys[i].object);
}

const struct dw_object *const *dwi_objects(struct dw_arena *arena, size_t *count)
{
    struct list list = {.arena = arena};
    gather(&list, &dw_job_object);
    *count = list.count;
    return list.at;
}

const char *dwi_object_word(struct dw_arena *arena, const struct dw_object *object)
{
    char *word = dw_arena_string(arena, object->name);
    for (char *c = word; *c != '\0'; c++)
        if (*c == ' ')
            *c = '_';
    return word;
}
