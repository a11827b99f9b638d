/* leaders.h - labels that find no room in their pieces, led out of them: into waste nearby, or past all other labels to the nearest margin. */
#ifndef DW_DRAWING_LEADERS_H
#define DW_DRAWING_LEADERS_H

#include "scene.h"

/* What is written on one piece, ready to be read. */
struct dwi_label {
    struct dwi_area at;        /* of the piece */
    size_t within;             /* as in dw_shape */
    const char *mark, *size;
    const char *address;
    const struct dw_part *part; /* NULL for an offcut */
    size_t number;             /* of the piece within the part */
};

/* Areas on a page: where a text stands, a line runs. */
struct dwi_areas {
    struct dwi_area *at;
    size_t count, capacity;
};
void dwi_add_area(struct dw_arena *arena, struct dwi_areas *areas, struct dwi_area area);
bool dwi_meets_any(const struct dwi_areas *areas, struct dwi_area area);

/* Where leaders of a sheet may go. */
struct dwi_leading {
    struct dwi_area sheet;
    struct dwi_areas open;   /* waste */
    struct dwi_areas texts;  /* what is written on the sheet: no leader crosses it */
    bool left_free;          /* may labels stand at the left too? */
    bool waste_only;         /* ... or in no margin at all? */
};

struct dwi_leader {
    const struct dwi_label *label;
    int side;                /* -1 left margin, 0 in waste, 1 right margin */
    dw_dot points[8];        /* from the dot in the piece outward, the last at the text (in a margin: at the sheet's edge) */
    size_t point_count;
    struct dwi_area text;    /* in waste: where the label stands */
    bool two_lines;
    bool led;                /* was a way found? */
};

/* A way for each of the labels, those for a margin in the order in which they leave the sheet. */
struct dwi_leaders {
    struct dwi_leader *at;
    size_t count;
    size_t missing;          /* of them, those that found no way */
    dw_dot room[2];          /* that labels at the left and at the right of the sheet want */
};
struct dwi_leaders dwi_lead(struct dw_arena *arena, const struct dwi_label *led, size_t count, const struct dwi_leading *sheet);

/* Draws them; margins end at those of `room`. Adds what is drawn on the sheet to `taken`. */
void dwi_draw_leaders(struct dwi_pad *pad, const struct dwi_leaders *leaders, struct dwi_area sheet, struct dwi_area room, struct dwi_areas *taken);

#endif
