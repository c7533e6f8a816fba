#include "daemon/service/keying_rule.h"

namespace tripline::service {

namespace {

constexpr Duration suspend_tolerance = std::chrono::milliseconds{50};

}  // namespace

station::Lines KeyingRule::decide(const Sight& sight) noexcept {
    present_ = look(sight);
    if (present_ != Trouble::none && latched_ == Trouble::none) latched_ = present_;
    ahead_ = sight.forced_to_rest || (ahead_ && !catches_up(sight));
    last_ = sight;
    seen_ = true;
    return latched_ == Trouble::none && !ahead_ ? sight.wanted : station::Lines{};
}

bool KeyingRule::catches_up(const Sight& sight) const noexcept {
    return sight.wanted == station::Lines{} || (sight.wanted.ptt && !last_.wanted.ptt);
}

Trouble KeyingRule::look(const Sight& sight) noexcept {
    if (sight.blocks != last_.blocks) advanced_ = sight.monotonic;
    if (sight.monitor_blocks != last_.monitor_blocks) monitor_advanced_ = sight.monotonic;
    if (sight.service_beats != last_.service_beats) service_advanced_ = sight.monotonic;
    if (!sight.guard_sound) return Trouble::guard;
    if (sight.monotonic - service_advanced_ > limits_.service) return Trouble::service;
    if (sight.blocks == 0) return Trouble::not_started;
    if (seen_ && sight.slept - last_.slept > suspend_tolerance) return Trouble::suspended;
    if (sight.monotonic - advanced_ > limits_.stall) return Trouble::stalled;
    if (limits_.monitor && sight.monotonic - monitor_advanced_ > limits_.stall) return Trouble::monitor_stalled;
    if (limits_.lifeless > Duration{0} && sight.lifeless >= limits_.lifeless) return Trouble::lifeless;
    return Trouble::none;
}

}  // namespace tripline::service
