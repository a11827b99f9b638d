/* tree.c - cJSON's tree into ours. cJSON notes every parse in one place of the process, so parses take turns. */
#include "tree.h"

#include <pthread.h>
#include <string.h>

#include <cjson/cJSON.h>

#include <drawerwright/fault.h>
#include <drawerwright/memory.h>

static pthread_mutex_t turn = PTHREAD_MUTEX_INITIALIZER;

struct reading {
    const char *text;
    size_t length;
    const struct dwi_limits *limits;
    const char *what;
    struct dw_arena *arena;
    struct dw_faults *faults;
    const char *prepared;
    const cJSON *parsed;
    struct dwi_tree *tree;
};

static void prepare_body(void *context)
{
    struct reading *reading = context;
    reading->prepared = dwi_tree_prepare(reading->text, reading->length, reading->limits, reading->what, reading->arena, reading->faults);
}

static enum dwi_tree_kind kind_of(const cJSON *item)
{
    if (cJSON_IsObject(item))
        return DWI_OBJECT;
    if (cJSON_IsArray(item))
        return DWI_ARRAY;
    if (cJSON_IsTrue(item))
        return DWI_TRUE;
    if (cJSON_IsFalse(item))
        return DWI_FALSE;
    if (cJSON_IsNull(item))
        return DWI_NULL;
    return item->valuestring[0] == '\x01' ? DWI_NUMBER : DWI_STRING;
}

static struct dwi_tree *convert(struct dw_arena *arena, const cJSON *item)
{
    struct dwi_tree *node = dw_arena_alloc(arena, 1, sizeof *node);
    node->kind = kind_of(item);
    node->key = item->string == NULL ? NULL : dw_arena_string(arena, item->string);
    if (node->kind == DWI_STRING || node->kind == DWI_NUMBER)
        node->text = dw_arena_string(arena, item->valuestring + (node->kind == DWI_NUMBER ? 1 : 0));
    struct dwi_tree **link = &node->first;
    for (const cJSON *child = item->child; child != NULL; child = child->next) {
        *link = convert(arena, child);
        link = &(*link)->next;
    }
    return node;
}

static void convert_body(void *context)
{
    struct reading *reading = context;
    reading->tree = convert(reading->arena, reading->parsed);
}

static struct dwi_tree *out_of_memory(struct dw_faults *faults)
{
    dw_error(faults, DW_SURROUNDINGS, "out-of-memory", "", "memory ran out while a file was read");
    return NULL;
}

struct dwi_tree *dwi_tree_read(const char *text, size_t length, const struct dwi_limits *limits, const char *what, struct dw_arena *arena,
                               struct dw_faults *faults)
{
    struct reading reading = {.text = text, .length = length, .limits = limits, .what = what, .arena = arena, .faults = faults};
    if (!dw_arena_guard(arena, prepare_body, &reading))
        return out_of_memory(faults);
    if (reading.prepared == NULL)
        return NULL;
    (void)pthread_mutex_lock(&turn);
    cJSON *parsed = cJSON_Parse(reading.prepared);
    (void)pthread_mutex_unlock(&turn);
    if (parsed == NULL) /* the text is JSON by our own pass, so only memory can have failed */
        return out_of_memory(faults);
    reading.parsed = parsed;
    const bool converted = dw_arena_guard(arena, convert_body, &reading);
    cJSON_Delete(parsed);
    return converted ? reading.tree : out_of_memory(faults);
}

struct dwi_tree *dwi_tree_find(const struct dwi_tree *object, const char *key)
{
    for (struct dwi_tree *child = object->first; child != NULL; child = child->next)
        if (child->key != NULL && strcmp(child->key, key) == 0)
            return child;
    return NULL;
}

size_t dwi_tree_count(const struct dwi_tree *node)
{
    size_t count = 0;
    for (const struct dwi_tree *child = node->first; child != NULL; child = child->next)
        count++;
    return count;
}

const char *dwi_tree_kind_words(const struct dwi_tree *node)
{
    static const char *const words[] = {
        [DWI_OBJECT] = "an object", [DWI_ARRAY] = "an array", [DWI_STRING] = "a string", [DWI_NUMBER] = "a number",
        [DWI_TRUE] = "true",        [DWI_FALSE] = "false",    [DWI_NULL] = "null",
    };
    return words[node->kind];
}
