/* change.c - one value of a tree set by its address: walk down the steps, making objects where there are none, and hang the value in. */
#include "change.h"

#include <stdlib.h>
#include <string.h>

#include <drawerwright/address.h>
#include <drawerwright/fault.h>
#include <drawerwright/memory.h>
#include <drawerwright/text.h>

static struct dwi_tree **link_of(struct dwi_tree *node, const struct dw_address_step *step)
{
    struct dwi_tree **link = &node->first;
    if (step->key == NULL) {
        for (size_t i = 0; i < step->index && *link != NULL; i++)
            link = &(*link)->next;
        return link;
    }
    while (*link != NULL && (strlen((*link)->key) != step->key_length || memcmp((*link)->key, step->key, step->key_length) != 0))
        link = &(*link)->next;
    return link;
}

/* True when the step can be taken from this node: a key of an object, an index of an array or one past its end. */
static bool fits(const struct dwi_tree *node, const struct dw_address_step *step)
{
    if (step->key != NULL)
        return node->kind == DWI_OBJECT;
    return node->kind == DWI_ARRAY && step->index <= dwi_tree_count(node);
}

static struct dwi_tree *new_child(struct dw_arena *arena, const struct dw_address_step *step, bool leads_to_index)
{
    struct dwi_tree *child = dw_arena_alloc(arena, 1, sizeof *child);
    child->kind = leads_to_index ? DWI_ARRAY : DWI_OBJECT;
    if (step->key != NULL)
        child->key = dw_arena_slice(arena, step->key, step->key_length);
    return child;
}

/* A bare count, "drawers": 4, stands for so many things that say nothing; who says something of one of them wants them written out. */
static void write_out(struct dw_arena *arena, struct dwi_tree *node, const struct dw_address_step *step)
{
    const size_t digits = node->kind == DWI_NUMBER ? strspn(node->text, "0123456789") : 0;
    if (step->key != NULL || digits == 0 || digits > 3 || node->text[digits] != '\0')
        return;
    const unsigned long count = strtoul(node->text, NULL, 10);
    if (step->index >= count)
        return;
    struct dwi_tree *things = dw_arena_alloc(arena, count, sizeof *things);
    for (unsigned long i = 0; i < count; i++) {
        things[i].kind = DWI_OBJECT;
        things[i].next = i + 1 < count ? &things[i + 1] : NULL;
    }
    node->kind = DWI_ARRAY;
    node->first = things;
}

bool dwi_change(struct dw_arena *arena, struct dw_faults *faults, struct dwi_tree *root, const char *address, struct dwi_tree *value)
{
    const struct dw_address_step *steps = NULL;
    const long count = dw_address_split(arena, address, &steps);
    struct dwi_tree *node = root;
    if (count < 1) {
        dw_error(faults, DW_INPUT, "no-address", address, "this is no address\nan address such as cases[0].count");
        return false;
    }
    for (long i = 0; i < count; i++) {
        if (i + 1 < count)
            write_out(arena, node, &steps[i]);
        if (!fits(node, &steps[i])) {
            dw_error(faults, DW_INPUT, "no-address", address, "there is no such place in the job\nan address such as cases[0].count");
            return false;
        }
        struct dwi_tree **link = link_of(node, &steps[i]);
        if (i + 1 == count) {
            struct dwi_tree *rest = *link == NULL ? NULL : (*link)->next;
            if (value == NULL) {
                *link = rest;
                return true;
            }
            value->key = steps[i].key == NULL ? NULL : dw_arena_slice(arena, steps[i].key, steps[i].key_length);
            value->next = rest;
            *link = value;
            return true;
        }
        if (*link == NULL)
            *link = new_child(arena, &steps[i], steps[i + 1].key == NULL);
        node = *link;
    }
    return true;
}

struct making {
    struct dw_arena *arena;
    const char *text;
    struct dwi_tree *node;
};

static void string_body(void *context)
{
    struct making *making = context;
    making->node = dw_arena_alloc(making->arena, 1, sizeof *making->node);
    making->node->kind = DWI_STRING;
    making->node->text = dw_arena_string(making->arena, making->text);
}

struct dwi_tree *dwi_change_value(const char *value, struct dw_arena *arena, struct dw_faults *faults)
{
    if (!dw_utf8_is_clean(value, strlen(value))) {
        dw_error(faults, DW_INPUT, "not-understood", "", "the new value holds a control character, or is no UTF-8\na plain value");
        return NULL;
    }
    struct dw_faults *unread = dw_faults_new(); /* why it is no JSON is nobody's concern */
    struct dwi_tree *node = unread == NULL ? NULL : dwi_tree_read(value, strlen(value), &dwi_job_limits, "", arena, unread);
    const bool failed = unread == NULL || unread->status == DW_SURROUNDINGS;
    dw_faults_free(unread);
    struct making making = {.arena = arena, .text = value, .node = node};
    if (!failed && node == NULL && dw_arena_guard(arena, string_body, &making))
        return making.node;
    if (node == NULL)
        dw_error(faults, DW_SURROUNDINGS, "out-of-memory", "", "memory ran out while a value was changed");
    return node;
}
