/* packet.h - the parts of a packet, each on pages of its own. */
#ifndef DW_DRAWING_PACKET_H
#define DW_DRAWING_PACKET_H

#include "paper.h"

void dwi_packet_summary(struct dwi_packet *packet);
/* What is where; drawn onto the summary when all pages are known. */
void dwi_packet_contents(struct dwi_packet *packet);
void dwi_packet_ladder(struct dwi_packet *packet);
void dwi_packet_sheets(struct dwi_packet *packet);
void dwi_packet_cases(struct dwi_packet *packet);
void dwi_packet_drawers(struct dwi_packet *packet);
void dwi_packet_boxes(struct dwi_packet *packet);
void dwi_packet_parts(struct dwi_packet *packet);
void dwi_packet_shopping(struct dwi_packet *packet);
void dwi_packet_cautions(struct dwi_packet *packet);
void dwi_packet_stick(struct dwi_packet *packet);
void dwi_packet_labels(struct dwi_packet *packet);
void dwi_plain_labels(struct dwi_packet *packet, const struct dw_label *labels, size_t count);

/* The sheet of labels asked for, or plain paper shared out; and whether its labels can be read and lie on the paper. */
struct dw_label_sheet dwi_label_sheet_of(const struct dw_packet_options *options);
bool dwi_labels_fit(const struct dw_packet_options *options);

/* The warnings, each said once with all its places, as people call them. */
struct dwi_caution {
    const struct dw_fault *fault;
    const char *places;
};
struct dwi_cautions {
    const struct dwi_caution *at;
    size_t count;
};
struct dwi_cautions dwi_cautions_of(const struct dwi_packet *packet);

#endif
