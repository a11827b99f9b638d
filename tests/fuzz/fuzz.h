/* fuzz.h - one entry for each thing that takes what others wrote: any bytes go in, and aborts when a promise is broken.
 *
 * Under clang with -D DW_FUZZ=ON each becomes a libFuzzer program of its own (its name is then LLVMFuzzerTestOneInput by the build);
 * test_fuzz_corpus replays the kept corpus through all of them under any compiler.
 */
#ifndef FUZZ_H
#define FUZZ_H

#include <stddef.h>
#include <stdint.h>

int fuzz_length(const uint8_t *data, size_t size);
int fuzz_job(const uint8_t *data, size_t size);
int fuzz_csv(const uint8_t *data, size_t size);
int fuzz_plan(const uint8_t *data, size_t size);
int fuzz_guard(const uint8_t *data, size_t size);
int fuzz_cut(const uint8_t *data, size_t size);

#endif
