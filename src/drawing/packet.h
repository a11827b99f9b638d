/* packet.h - the parts of a packet, each on pages of its own. */
#ifndef DW_DRAWING_PACKET_H
#define DW_DRAWING_PACKET_H

#include "page.h"

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

/* Warnings among the faults. */
size_t dwi_warning_count(const struct dw_faults *faults);

#endif
