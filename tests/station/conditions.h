// Every standing and every set of conditions there can be.
#pragma once

#include "daemon/station/transition.h"

#include <array>

namespace tripline::station::test {

inline constexpr std::array all_modes{Mode::armed, Mode::safe, Mode::keyed};
inline constexpr std::array all_locks{Lock{false, false}, Lock{true, false}, Lock{false, true},
                                      Lock{true, true}};

/// The conditions as bits; `bits` counts them.
struct ConditionBits {
    static constexpr unsigned bits = 11;
    static constexpr Conditions of(Mode mode, unsigned set) {
        const auto bit = [set](unsigned i) { return (set >> i & 1U) != 0; };
        return {.mode = mode,
                .voice = bit(0),
                .held = bit(1),
                .elapsed = bit(2),
                .too_long = bit(3),
                .steady = bit(4),
                .quiet = bit(5),
                .commanded = bit(6),
                .fault = bit(7),
                .not_finite = bit(8),
                .not_speech = bit(9),
                .reload = bit(10)};
    }
};

template <typename Visit>
constexpr void for_each_conditions(Visit visit) {
    for (const Mode mode : all_modes)
        for (unsigned set = 0; set < 1U << ConditionBits::bits; ++set)
            visit(ConditionBits::of(mode, set));
}

template <typename Visit>
constexpr void for_each_standing(Visit visit) {
    for (const State state : all_states)
        for (const Lock lock : all_locks) visit(Standing{state, lock});
}

}  // namespace tripline::station::test
