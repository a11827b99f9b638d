/* paper.h - the pages of a packet: one frame for all, and text that flows from page to page. */
#ifndef DW_DRAWING_PAPER_H
#define DW_DRAWING_PAPER_H

#include "scene.h"

/* The packet being made. */
struct dwi_packet {
    struct dw_arena *arena;
    const struct dw_purchase *purchase;
    const struct dw_faults *warnings;
    const struct dw_packet_options *options;
    const struct dw_job *job;        /* the first of those planned together: its units and shop */
    dw_dot page_width, page_height;  /* lying */
    struct dwi_pad *pages;
    size_t count, capacity;
    struct dwi_area room;             /* of the page begun last: what its frame leaves */
    const char *part;                /* of the packet being made: what its pages are listed under */
};

enum { DWI_MARGIN = 3600, DWI_HEAD = 3000, DWI_FOOT = 2600 };

/* Begins a page; the returned pad stays valid until the next page is begun. */
struct dwi_pad *dwi_page(struct dwi_packet *packet, const char *topic);
/* A standing page without a frame, for sheets of labels. */
struct dwi_pad *dwi_bare_page(struct dwi_packet *packet, const char *topic);
struct dwi_pad *dwi_page_now(struct dwi_packet *packet);

/* The frame of a single drawing that is no page of a packet: title and lower line. Returns the room it leaves. */
struct dwi_area dwi_frame(struct dwi_pad *pad, const char *topic, const char *job);

/* Page numbers, job and plan mark on every page; then the scenes. */
struct dw_scenes dwi_packet_close(struct dwi_packet *packet);

/* ---- tables that go on from page to page ------------------------------------------------------------------ */

enum dwi_align { DWI_LEFT, DWI_RIGHT, DWI_MIDDLE };

struct dwi_column {
    const char *title;
    dw_dot width;
    enum dwi_align align;
    bool wrap;            /* long texts go on in a next line; else they are shortened */
    bool bold;
    dw_dot size;          /* 0: DWI_BODY */
    bool tick;            /* an empty box to tick; its text is ignored */
    bool as_it_is;        /* no fractions are set: paths, marks */
};

/* A flow down the pages of one topic. */
struct dwi_flow {
    struct dwi_packet *packet;
    const char *topic;
    dw_dot x, width;
    dw_dot y;             /* top of what comes next */
    const char *under;                /* the heading that it stands under, and ... */
    const struct dwi_column *columns; /* of the table being set: both are repeated on a new page */
    size_t column_count;
};

struct dwi_flow dwi_flow_on(struct dwi_packet *packet, const char *topic);
/* Makes sure that so much height is left, or begins a new page. */
void dwi_flow_need(struct dwi_flow *flow, dw_dot height);
void dwi_flow_gap(struct dwi_flow *flow, dw_dot height);
void dwi_flow_heading(struct dwi_flow *flow, const char *text, const char *behind);
void dwi_flow_paragraph(struct dwi_flow *flow, struct dwi_type type, const char *address, const char *text);
void dwi_flow_table(struct dwi_flow *flow, const struct dwi_column *columns, size_t count);
/* How high a row with these texts would stand. */
dw_dot dwi_flow_row_height(const struct dwi_flow *flow, const struct dwi_column *columns, size_t count, const char *const *cells);
/* A stronger line under the row set last: a group ends. */
void dwi_flow_rule(struct dwi_flow *flow);
/* One row of the table: a text for each column. */
void dwi_flow_row(struct dwi_flow *flow, const char *address, const char *const *cells);

#endif
