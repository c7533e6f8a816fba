#include "daemon/guard/arguments.h"

#include <algorithm>
#include <cstdio>
#include <stdexcept>

namespace tripline::guard {

using std::chrono_literals::operator""h;

namespace {

/// The plan's times in the order of the command line.
template <typename P>
auto times_of(P& plan) {
    auto& steps = plan.steps;
    return std::array{&plan.longest,      &plan.silence,      &plan.alive_period,
                      &steps.mute.lead,   &steps.mute.lag,    &steps.antenna.lead,
                      &steps.antenna.lag, &steps.ptt.lead,    &steps.ptt.lag};
}

unsigned pin_of(const lines::LineSettings& line) {
    switch (line.kind) {
        case lines::Kind::serial: return static_cast<unsigned>(line.serial_pin);
        case lines::Kind::gpio: return line.gpio_line;
        case lines::Kind::cm108: return line.cm108_pin;
        default: return 0;
    }
}

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

void check(const Plan& plan) {
    require(plan.longest >= 1s && plan.longest <= 2h, "longest transmission: 1 s to 2 h");
    require(plan.silence >= 50ms && plan.silence <= 250ms, "silence: 50 ms to 250 ms");
    require(plan.alive_period >= 100ms && plan.alive_period <= 1s, "alive period: 100 ms to 1 s");
    const auto times = times_of(plan);
    for (const Duration* step : std::span(times).subspan(3))
        require(*step >= 0ms && *step <= 1s, "lead and lag: 0 to 1 s");
    require(plan.priority >= 0 && plan.priority <= 99, "priority: 0 to 99");
    for (const lines::LineSettings& line : plan.wiring) {
        require(line.kind == lines::Kind::none || !line.device.empty(), "a line needs a device");
        require(line.kind != lines::Kind::cm108 || (line.cm108_pin >= 1 && line.cm108_pin <= 8),
                "pin of a dongle: 1 to 8");
        require(line.kind != lines::Kind::gpio || line.gpio_line <= 1023, "GPIO line: 0 to 1023");
    }
}

std::vector<std::string> to_arguments(const Plan& plan) {
    check(plan);
    std::vector<std::string> arguments;
    for (const lines::LineSettings& line : plan.wiring)
        arguments.push_back(std::to_string(static_cast<int>(line.kind)) + ',' +
                            std::to_string(pin_of(line)) + ',' +
                            std::to_string(int{line.active_high}) + ',' + line.device);
    std::string numbers;
    for (const Duration* time : times_of(plan)) numbers += std::to_string(time->count()) + ' ';
    arguments.push_back(numbers + std::to_string(plan.priority));
    return arguments;
}

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
