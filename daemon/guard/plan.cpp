#include "daemon/guard/plan.h"

#include <span>
#include <stdexcept>

namespace tripline::guard {

using std::chrono_literals::operator""h;

namespace {

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
        require(*step >= 0ms && *step <= station::longest_step, "lead, lag and settle: 0 to 1 s");
    require(plan.priority >= 0 && plan.priority <= 99, "priority: 0 to 99");
    for (const lines::LineSettings& line : plan.wiring) {
        require(line.kind == lines::Kind::none || !line.device.empty(), "a line needs a device");
        require(line.kind != lines::Kind::cm108 || (line.cm108_pin >= 1 && line.cm108_pin <= 8),
                "pin of a dongle: 1 to 8");
        require(line.kind != lines::Kind::gpio || line.gpio_line <= 1023, "GPIO line: 0 to 1023");
    }
}

}  // namespace tripline::guard
