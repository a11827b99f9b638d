/* tree_write.c - a tree as JSON again. An object or array that holds no further ones stands on one line. */
#include <drawerwright/text.h>

#include "json_write.h"
#include "tree.h"

static bool is_bracket(const struct dwi_tree *node)
{
    return node->kind == DWI_OBJECT || node->kind == DWI_ARRAY;
}

static bool holds_brackets(const struct dwi_tree *node)
{
    for (const struct dwi_tree *child = node->first; child != NULL; child = child->next)
        if (is_bracket(child))
            return true;
    return false;
}

static void write_node(struct dwi_json *json, const struct dwi_tree *node);

static void write_bracket(struct dwi_json *json, const struct dwi_tree *node)
{
    const bool object = node->kind == DWI_OBJECT;
    if (holds_brackets(node))
        (object ? dwi_json_object : dwi_json_array)(json, node->key);
    else
        (object ? dwi_json_flat_object : dwi_json_flat_array)(json, node->key);
    for (const struct dwi_tree *child = node->first; child != NULL; child = child->next)
        write_node(json, child);
    (object ? dwi_json_end_object : dwi_json_end_array)(json);
}

static void write_node(struct dwi_json *json, const struct dwi_tree *node)
{
    switch (node->kind) {
    case DWI_OBJECT:
    case DWI_ARRAY:
        write_bracket(json, node);
        return;
    case DWI_STRING:
        dwi_json_string(json, node->key, node->text);
        return;
    case DWI_NUMBER:
        dwi_json_raw(json, node->key, node->text);
        return;
    case DWI_TRUE:
    case DWI_FALSE:
        dwi_json_bool(json, node->key, node->kind == DWI_TRUE);
        return;
    case DWI_NULL:
        dwi_json_null(json, node->key);
        return;
    }
}

void dwi_tree_write(const struct dwi_tree *tree, struct dw_text *out)
{
    struct dwi_json json = dwi_json_to(out);
    write_node(&json, tree);
    dwi_json_finish(&json);
}
