/* slides.c - which length of slide fits, where it sits, and what it carries.
 *
 * From the face of the case (of the frame, where there is one) to the back must fit: the slide's own set-back, the
 * thickness of an inset front, the slide, and the free depth behind it. The longest on offer that does is taken, or the
 * one that was wished for is held against the same sum. An inset front is deducted once: a face frame is part of the
 * depth already.
 */
#include "sizer.h"

#include <drawerwright/memory.h>
#include <drawerwright/text.h>

static const struct dw_slide no_slide = {.id = "", .name = "no slide", .kind = DW_HAND_FITTED, .center = DW_LENGTH_UNSET};

const struct dw_slide *dwi_slide_of(const struct dw_job *job, const struct dw_drawer *drawer)
{
    return drawer->slide < job->shop.slide_count ? &job->shop.slides[drawer->slide] : &no_slide;
}

dw_length dwi_thickness(const struct dw_job *job, size_t material)
{
    return material < job->shop.material_count ? job->shop.materials[material].thickness : 0;
}

dw_length dwi_slab_thickness(const struct dw_job *job, const struct dw_drawer *drawer)
{
    return drawer->front.kind == DW_FRONT_IS_BOX_FRONT ? dwi_thickness(job, drawer->front.material) : 0;
}

/* How far the front reaches into the case. */
static dw_length front_inside(const struct dw_job *job, const struct dw_drawer *drawer)
{
    const dw_length thickness = dwi_thickness(job, drawer->front.material);
    if (drawer->fit.kind == DW_INSET)
        return thickness;
    if (drawer->fit.kind == DW_LIPPED)
        return dw_most(thickness - drawer->fit.lip, 0);
    return 0;
}

static struct dw_figure set_back_of(const struct dwi_sizer *sizer, const struct dw_drawer *drawer)
{
    struct dwi_figuring figuring = dwi_figure_start(sizer->arena, "set-back", "set-back of the slide itself",
                                                    dwi_slide_of(sizer->job, drawer)->set_back);
    dwi_figure_add(&figuring, drawer->fit.kind == DW_LIPPED ? "the part of the lipped front inside the case" : "thickness of the inset front",
                   front_inside(sizer->job, drawer));
    return dwi_figure_done(&figuring);
}

/* "10 in, 12 in, 14 in" */
static const char *all_lengths(const struct dwi_sizer *sizer, const struct dw_slide *slide)
{
    struct dw_text text = dw_text_in(sizer->arena);
    for (size_t i = 0; i < slide->length_count; i++) {
        dw_text_add(&text, i == 0 ? "" : ", ");
        dw_text_add(&text, dwi_show(sizer, slide->lengths[i].length));
    }
    return text.bytes;
}

static bool is_on_offer(const struct dw_slide *slide, dw_length length)
{
    for (size_t i = 0; i < slide->length_count; i++)
        if (slide->lengths[i].length == length)
            return true;
    return false;
}

/* The longest on offer that is no longer than `most`; 0 when there is none. */
static dw_length longest_on_offer(const struct dw_slide *slide, dw_length most)
{
    dw_length longest = 0;
    for (size_t i = 0; i < slide->length_count; i++)
        if (slide->lengths[i].length <= most)
            longest = dw_most(longest, slide->lengths[i].length);
    return longest;
}

static dw_length shortest_on_offer(const struct dw_slide *slide)
{
    dw_length shortest = slide->lengths[0].length;
    for (size_t i = 1; i < slide->length_count; i++)
        shortest = dw_least(shortest, slide->lengths[i].length);
    return shortest;
}

/* What must stay free behind the box: what the slide asks, or by how much it is longer than its name. */
static dw_length behind(const struct dw_slide *slide)
{
    return dw_most(slide->rear, slide->longer);
}

/* A wished length is on offer and fits `room`, or the fault says why not. */
static bool wish_fits(const struct dwi_sizer *sizer, const struct dw_sized_bank *bank, const struct dw_sized_drawer *drawer,
                      dw_length room)
{
    const struct dw_slide *slide = dwi_slide_of(sizer->job, drawer->drawer);
    const dw_length wish = drawer->drawer->box.slide_length;
    if (!is_on_offer(slide, wish)) {
        dw_error(sizer->faults, DW_IMPOSSIBLE, "slide-not-offered", dwi_place(sizer, drawer, "box.slide_length"), "%s is not offered %s long\ntake one of %s",
                 slide->name, dwi_show(sizer, wish), all_lengths(sizer, slide));
        return false;
    }
    if (wish <= room)
        return true;
    const dw_length fits = longest_on_offer(slide, room);
    const char *cure = fits > 0 ? dw_arena_format(sizer->arena, "the longest that fits is %s", dwi_show(sizer, fits))
                                : "no length on offer fits: make the case deeper";
    dw_error(sizer->faults, DW_IMPOSSIBLE, "slide-too-long", dwi_place(sizer, drawer, "box.slide_length"),
             "a slide of %s needs %s of depth (set-back %s, %s free behind it), and there are %s\n%s", dwi_show(sizer, wish),
             dwi_show(sizer, wish + drawer->set_back.value + behind(slide)), dwi_show(sizer, drawer->set_back.value),
             dwi_show(sizer, behind(slide)), dwi_show(sizer, bank->opening_depth.value), cure);
    return false;
}

static void report_none_fits(const struct dwi_sizer *sizer, const struct dw_sized_bank *bank, const struct dw_sized_drawer *drawer)
{
    const struct dw_slide *slide = dwi_slide_of(sizer->job, drawer->drawer);
    const dw_length shortest = shortest_on_offer(slide);
    const dw_length needs = shortest + drawer->set_back.value + behind(slide);
    dw_error(sizer->faults, DW_IMPOSSIBLE, "slide-none-fits", drawer->address,
             "the shortest slide on offer, %s, needs %s of depth (set-back %s, %s free behind it), and there are %s\n"
             "make the case deeper by %s, or take another slide",
             dwi_show(sizer, shortest), dwi_show(sizer, needs), dwi_show(sizer, drawer->set_back.value),
             dwi_show(sizer, behind(slide)), dwi_show(sizer, bank->opening_depth.value),
             dwi_show(sizer, needs - bank->opening_depth.value));
}

/* Without a depth of the case only what was told can be taken. */
static bool choose_unmeasured(const struct dwi_sizer *sizer, struct dw_sized_drawer *drawer)
{
    const struct dw_box *box = &drawer->drawer->box;
    if (box->slide_length == DW_LENGTH_UNSET && box->depth == DW_LENGTH_UNSET) {
        dw_error(sizer->faults, DW_INPUT, "no-depth", drawer->address,
                 "the depth of the case is not known\ngive the case's depth, its opening's, or the depth of the box");
        return false;
    }
    const dw_length most = box->depth == DW_LENGTH_UNSET ? DW_LENGTH_MAX : box->depth - dwi_slab_thickness(sizer->job, drawer->drawer);
    const dw_length length = box->slide_length != DW_LENGTH_UNSET
                                 ? box->slide_length
                                 : longest_on_offer(dwi_slide_of(sizer->job, drawer->drawer), most);
    if (length > 0)
        drawer->slide_length = dwi_figure_given(sizer->arena, "slide length",
                                                box->slide_length != DW_LENGTH_UNSET ? "as given" : "the longest on offer for the box", length);
    return true;
}

bool dwi_slide_choose(const struct dwi_sizer *sizer, const struct dw_sized_bank *bank, struct dw_sized_drawer *drawer)
{
    const struct dw_slide *slide = dwi_slide_of(sizer->job, drawer->drawer);
    const struct dw_box *box = &drawer->drawer->box;
    drawer->set_back = set_back_of(sizer, drawer->drawer);
    if (bank->opening_depth.value == DW_LENGTH_UNSET)
        return choose_unmeasured(sizer, drawer);
    if (slide->length_count == 0)
        return true;
    struct dwi_figuring length = dwi_figure_start(sizer->arena, "slide length", "inside depth, from the face to the back",
                                                  bank->opening_depth.value);
    dwi_figure_subtract(&length, "less the set-back", drawer->set_back.value);
    dwi_figure_subtract(&length, slide->longer > slide->rear ? "less what the slide is longer than its name" : "less the free depth behind",
                        behind(slide));
    if (box->slide_length != DW_LENGTH_UNSET && !wish_fits(sizer, bank, drawer, length.value))
        return false;
    if (box->depth != DW_LENGTH_UNSET)
        dwi_figure_at_most(&length, "no longer than the box", box->depth - dwi_slab_thickness(sizer->job, drawer->drawer));
    const dw_length chosen = box->slide_length != DW_LENGTH_UNSET ? box->slide_length : longest_on_offer(slide, length.value);
    if (chosen == 0) {
        report_none_fits(sizer, bank, drawer);
        return false;
    }
    dwi_figure_at_most(&length, box->slide_length != DW_LENGTH_UNSET ? "the length wished" : "the longest on offer that fits", chosen);
    drawer->slide_length = dwi_figure_done(&length);
    return true;
}

/* The floor inside the case, which the story stick stands on. In a face frame it is flush with the bottom rail (common
 * practice, no source; the case's parts are cut for that), unless the bottom is thicker than the rail is high. */
static dw_length case_floor(const struct dw_sized_case *sized)
{
    const struct dw_case *source = sized->source;
    if (source->style != DW_FACE_FRAME || source->height == DW_LENGTH_UNSET || source->bottom == DW_LENGTH_UNSET)
        return sized->opening.y;
    const dw_length rail = source->rail_bottom == DW_LENGTH_UNSET ? 0 : source->rail_bottom;
    return (source->kick == DW_LENGTH_UNSET ? 0 : source->kick) + dw_most(source->bottom, rail);
}

/* From the lower edge of the box to the slide's center line, by what the slide is. */
static void add_center(const struct dw_slide *slide, const struct dw_sized_drawer *drawer, struct dwi_figuring *center)
{
    if (slide->center != DW_LENGTH_UNSET)
        dwi_figure_add(center, "center of the slide above the lower edge of the box", slide->center);
    else if (slide->kind == DW_UNDERMOUNT)
        dwi_figure_add(center, "half the recess under the bottom, which the slide runs in", slide->recess / 2);
    else if (slide->kind == DW_CENTER_MOUNT)
        dwi_figure_subtract(center, "half the free height, which the slide runs in", slide->below / 2);
    else
        dwi_figure_add(center, "half the height of the box", drawer->box_height.value / 2);
}

static struct dw_figure center_of(const struct dwi_sizer *sizer, const struct dw_sized_case *sized, const struct dw_sized_drawer *drawer)
{
    struct dwi_figuring center = dwi_figure_start(sizer->arena, "slide center line", "lower edge of the space above the case floor",
                                                  drawer->space.y - case_floor(sized));
    if (drawer->box.y >= drawer->space.y)
        dwi_figure_add(&center, "free height under the box", drawer->box.y - drawer->space.y);
    else
        dwi_figure_subtract(&center, "the box reaches below it by", drawer->space.y - drawer->box.y);
    add_center(dwi_slide_of(sizer->job, drawer->drawer), drawer, &center);
    const dw_length step = dw_most(sizer->habits->box_step, 1);
    if (center.value % step != 0)
        dwi_figure_up_to(&center, "up to what a rule can set, the step of boxes", step);
    return dwi_figure_done(&center);
}

void dwi_slide_finish(const struct dwi_sizer *sizer, const struct dw_sized_case *sized, struct dw_sized_drawer *drawer)
{
    const struct dw_slide *slide = dwi_slide_of(sizer->job, drawer->drawer);
    if (slide->kind != DW_HAND_FITTED)
        drawer->slide_center = center_of(sizer, sized, drawer);
    drawer->rating = slide->rating;
    if (slide->rating_width > 0 && drawer->box_width.value > slide->rating_width)
        drawer->rating = dwi_scale_down(slide->rating, slide->rating_width, drawer->box_width.value);
}
