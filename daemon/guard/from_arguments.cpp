#include "daemon/guard/arguments.h"

#include <algorithm>
#include <cstdio>
#include <stdexcept>

namespace tripline::guard {
namespace {

lines::LineSettings line_from(const char* text) {
    unsigned kind = 0, pin = 0, high = 0;
    int device = 0;
    if (std::sscanf(text, "%1u,%4u,%1u,%n", &kind, &pin, &high, &device) != 3 || device == 0 ||
        kind >= lines::all_kinds.size() || high > 1)
        throw std::invalid_argument(std::string("not a line: ") + text);
    return {.kind = lines::all_kinds[kind],
            .device = text + device,
            .serial_pin = pin == 0 ? lines::SerialPin::rts : lines::SerialPin::dtr,
            .gpio_line = pin,
            .cm108_pin = pin,
            .active_high = high == 1};
}

void require(bool sound, const char* what) {
    if (!sound) throw std::invalid_argument(what);
}

}  // namespace

Plan from_arguments(std::span<const char* const> arguments) {
    Plan plan;
    require(arguments.size() == plan.wiring.size() + 1, "expected a line for each role, and times");
    std::ranges::transform(arguments.first(plan.wiring.size()), plan.wiring.begin(), line_from);
    const char* text = arguments.back();
    for (Duration* time : times_of(plan)) {
        long long count = 0;
        int length = 0;
        require(std::sscanf(text, "%19lld %n", &count, &length) == 1, "a time is missing");
        *time = Duration(count);
        text += length;
    }
    require(std::sscanf(text, "%2d", &plan.priority) == 1, "the priority is missing");
    check(plan);
    return plan;
}

}  // namespace tripline::guard
