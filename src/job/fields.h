/* fields.h - what can be done with any thing that has a table of keys. */
#ifndef DWI_FIELDS_H
#define DWI_FIELDS_H

#include <drawerwright/keys.h>

/* Copies what the lists of a thing point at, and theirs, into `arena`, so that the copy may be completed in place. */
void dwi_copy_lists(struct dw_arena *arena, const struct dw_object *object, void *thing);

/* What `into` does not say it takes from `from`. Lists are left alone. */
void dwi_inherit(const struct dw_object *object, void *into, const void *from);

/* Values that are not given get the default of their row. Lists are left alone. */
void dwi_fill_defaults(const struct dw_object *object, void *thing, enum dw_unit unit);

/* Values that are out of range, and, where `require` is set, those that are missing; lists too. */
struct dwi_check {
    struct dw_arena *arena;
    struct dw_faults *faults;
    enum dw_unit unit;
    bool require;
};
void dwi_check_ranges(const struct dwi_check *check, const struct dw_object *object, const void *thing, const char *address);

/* The i-th thing of a list. */
void *dwi_list_item(const struct dw_key *key, void *thing, size_t i);
size_t dwi_list_count(const struct dw_key *key, const void *thing);

#endif
