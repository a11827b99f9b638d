/* told.c - marks in words. */
#include <drawerwright/progress.h>

#include <drawerwright/memory.h>

const char *dw_mark_words(const struct dw_mark *mark, enum dw_unit unit, struct dw_arena *arena)
{
    static const char *const edges[] = {"left", "right", "bottom", "top"};
    switch (mark->kind) {
    case DW_MARK_ENTERED:
        return "plan entered";
    case DW_MARK_CUT:
        return dw_arena_format(arena, "%s cut", mark->target);
    case DW_MARK_SHEET:
        return dw_arena_format(arena, "%s done to step %lld", mark->target, (long long)mark->step);
    case DW_MARK_SPOILED:
        return dw_arena_format(arena, "%s spoiled", mark->target);
    case DW_MARK_DAMAGED:
        return dw_arena_format(arena, "%s damaged, %s from the %s", mark->target,
                               dw_length_show_as_sold(arena, mark->depth, (struct dw_length_style){.unit = unit, .decimals = -1}), edges[mark->edge & 3]);
    case DW_MARK_CHANGED:
        return dw_arena_format(arena, "%s changed", mark->target);
    case DW_MARK_NOTE:
        break;
    }
    return mark->target;
}
