/* told.c - marks in words. */
#include <drawerwright/progress.h>

#include <drawerwright/memory.h>

const char *dw_mark_words(const struct dw_mark *mark, enum dw_unit unit, struct dw_arena *arena)
{
    static const char *const edges[] = {"left", "right", "bottom", "top"};
    const char *depth = dw_length_show_as_sold(arena, mark->depth, (struct dw_length_style){.unit = unit, .decimals = -1});
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
        return dw_arena_format(arena, "%s damaged, %s from the %s", mark->target, depth, edges[mark->edge]);
    case DW_MARK_MEASURED:
        return dw_arena_format(arena, "%s measures %s", mark->target, depth);
    case DW_MARK_CHANGED:
        return dw_arena_format(arena, "%s changed", mark->target);
    case DW_MARK_NOTE:
        return dw_arena_format(arena, "%s noted", mark->target);
    }
    return mark->target;
}
