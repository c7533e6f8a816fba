// Interface 1 of libgpiod over the fake chip.
#include "tests/lines/fake_gpiod.h"

#include <gpiod.h>

#include <cerrno>

namespace tripline::lines {
namespace {

std::array<int, 8> handles;  // a line of the library is a pointer to one of these

unsigned offset_of(const gpiod_line* line) {
    return static_cast<unsigned>(reinterpret_cast<const int*>(line) - handles.data());
}

}  // namespace
}  // namespace tripline::lines

using namespace tripline::lines;

extern "C" {

void gpiod_chip_close(gpiod_chip*) {
    ++chip().closed;
    chip().requested.fill(false);
}

gpiod_line* gpiod_chip_get_line(gpiod_chip*, unsigned offset) {
    if (offset >= handles.size()) {
        errno = EINVAL;
        return nullptr;
    }
    return reinterpret_cast<gpiod_line*>(&handles[offset]);
}

int gpiod_line_request_output(gpiod_line* line, const char* consumer, int value) {
    const unsigned offset = offset_of(line);
    if (chip().taken.contains(offset)) return fail(EBUSY);
    chip().consumer = consumer;
    chip().requested[offset] = true;
    chip().value[offset] = value;
    chip().calls.push_back("request " + text(offset, value));
    return 0;
}

int gpiod_line_set_value(gpiod_line* line, int value) {
    if (chip().set_error) return fail(chip().set_error);
    chip().value[offset_of(line)] = value;
    chip().calls.push_back("set " + text(offset_of(line), value));
    return 0;
}

int gpiod_line_get_value(gpiod_line* line) {
    if (chip().get_error) return fail(chip().get_error);
    return chip().value[offset_of(line)];
}

}  // extern "C"
