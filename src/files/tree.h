/* tree.h - JSON as a tree in an arena: what cJSON reads, held so that nothing of cJSON outlives the reading. */
#ifndef DWI_TREE_H
#define DWI_TREE_H

#include <stdbool.h>
#include <stddef.h>

struct dw_arena;
struct dw_faults;
struct dw_text;

enum dwi_tree_kind { DWI_OBJECT, DWI_ARRAY, DWI_STRING, DWI_NUMBER, DWI_TRUE, DWI_FALSE, DWI_NULL };

/* How large and how deep a text may be. */
struct dwi_limits {
    size_t bytes;
    int depth;
};

extern const struct dwi_limits dwi_job_limits, dwi_plan_limits;

struct dwi_tree {
    enum dwi_tree_kind kind;
    const char *key;         /* in an object; else NULL */
    const char *text;        /* of a string; of a number as it is printed in the file */
    struct dwi_tree *first;  /* of an object or array */
    struct dwi_tree *next;
};

/* Holds a text to RFC 8259, to clean UTF-8 and to the limits, and writes it again with every number n as the string
 * "\u0001n", so that its digits survive. NULL with a fault that says line and column otherwise. `what` is the file, which is the
 * fault's place, or "". Inside a guard. */
const char *dwi_tree_prepare(const char *text, size_t length, const struct dwi_limits *limits, const char *what, struct dw_arena *arena, struct dw_faults *faults);

/* The tree of a text, in `arena`; NULL with a fault in `faults`. Needs no guard; what cJSON holds is given back in any case. */
struct dwi_tree *dwi_tree_read(const char *text, size_t length, const struct dwi_limits *limits, const char *what, struct dw_arena *arena,
                               struct dw_faults *faults);

/* The first child of that key, or NULL. */
struct dwi_tree *dwi_tree_find(const struct dwi_tree *object, const char *key);

size_t dwi_tree_count(const struct dwi_tree *node);

/* The tree as JSON, added to `out` by our own writer: keys in their order, numbers with their digits. Inside a guard. */
void dwi_tree_write(const struct dwi_tree *tree, struct dw_text *out);

/* What a node is, for people: "a string", "an object". */
const char *dwi_tree_kind_words(const struct dwi_tree *node);

#endif
