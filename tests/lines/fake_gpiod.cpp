// What both interfaces of the fake library do alike.
#include "tests/lines/fake_gpiod.h"

#include <gpiod.h>

#include <cerrno>

namespace tripline::lines {

FakeChip& chip() {
    static FakeChip the_chip;
    return the_chip;
}

int fail(int error) {
    errno = error;
    return -1;
}

std::string text(unsigned line, int value) {
    return std::to_string(line) + "=" + std::to_string(value);
}

}  // namespace tripline::lines

using namespace tripline::lines;

extern "C" gpiod_chip* gpiod_chip_open(const char*) {
    if (chip().open_error) {
        errno = chip().open_error;
        return nullptr;
    }
    ++chip().opened;
    return reinterpret_cast<gpiod_chip*>(&chip());
}
