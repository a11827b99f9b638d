/* sizing_checks.h - what holds for everything that is sized, whatever the rules gave: nothing of the opening is lost or found, boxes stay in their
 * spaces. Include after cmocka.h. */
#ifndef DRAWERWRIGHT_TESTS_SIZING_CHECKS_H
#define DRAWERWRIGHT_TESTS_SIZING_CHECKS_H

#include <drawerwright/sizing.h>

/* From the top of the opening down: fronts, what they cover, gaps and rails must meet edge to edge. */
static inline void check_chain(const struct dw_sized_bank *bank)
{
    size_t rail = 0;
    dw_length edge = bank->opening.y + bank->opening.height; /* of the member, rail or gap above the next front */
    for (size_t i = 0; i < bank->drawer_count; i++) {
        const struct dw_sized_drawer *drawer = &bank->drawers[i];
        const bool railed = i + 1 < bank->drawer_count && drawer->drawer->rail_below.kind != DW_RAIL_NONE;
        const bool framed_above = i == 0 || bank->drawers[i - 1].drawer->rail_below.kind != DW_RAIL_NONE;
        const dw_length top = drawer->front.y + drawer->front.height;
        assert_int_equal(drawer->front.height, drawer->front_height.value);
        assert_int_equal(top, edge + (framed_above ? drawer->overlay[DW_TOP].value : 0));
        edge = drawer->front.y + drawer->overlay[DW_BOTTOM].value; /* of the rail or member below */
        if (railed) {
            const struct dw_rectangle *at = &bank->rails[rail++].at;
            assert_int_equal(at->y + at->height, edge);
            edge = at->y;
        } else if (i + 1 < bank->drawer_count) {
            edge = drawer->front.y - drawer->gap_below;
        }
    }
    assert_int_equal(rail, bank->rail_count);
    assert_int_equal(edge, bank->opening.y);
}

static inline void check_widths(const struct dw_sized_bank *bank)
{
    for (size_t i = 0; i < bank->drawer_count; i++) {
        const struct dw_sized_drawer *drawer = &bank->drawers[i];
        if (drawer->drawer->fill == DW_FILL_OPEN)
            continue;
        assert_int_equal(drawer->front_width.value, drawer->front.width);
        assert_int_equal(drawer->front.x + drawer->overlay[DW_LEFT].value, bank->opening.x);
        assert_int_equal(drawer->front.x + drawer->front.width - drawer->overlay[DW_RIGHT].value, bank->opening.x + bank->opening.width);
        assert_int_equal(drawer->front.width % (DW_INCH / 16), 0);
    }
}

static inline void check_box(const struct dw_sized_drawer *drawer)
{
    if (drawer->drawer->fill != DW_FILL_DRAWER)
        return;
    assert_true(drawer->box.y >= drawer->space.y);
    assert_true(drawer->box.y + drawer->box.height <= drawer->space.y + drawer->space.height);
    assert_true(drawer->box.x >= drawer->space.x);
    assert_true(drawer->box.x + drawer->box.width <= drawer->space.x + drawer->space.width);
}

#endif
