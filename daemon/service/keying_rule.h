// Whether the engine's wish may reach the lines, decided anew every millisecond from
// what can be seen from outside the audio callback. Pure: time is given.
#pragma once

#include "daemon/station/state.h"
#include "dsp/units.h"

#include <array>
#include <cstdint>
#include <string_view>

namespace tripline::service {

/// What interrupted the way from microphone to line.
enum class Trouble : std::uint8_t {
    none,
    not_started,      ///< no audio yet
    stalled,          ///< no audio callback in time
    monitor_stalled,  ///< no callback of the receiver's own device in time
    lifeless,         ///< every input exactly zero: nothing connected any more
    service,          ///< the service's thread stands still: nobody reads the signals
    guard,            ///< the guard does not answer, or has released by itself
    suspended,        ///< the machine slept
};
inline constexpr std::array all_troubles{Trouble::none,     Trouble::not_started, Trouble::stalled,
                                         Trouble::monitor_stalled, Trouble::lifeless, Trouble::service,
                                         Trouble::guard, Trouble::suspended};

constexpr std::string_view name(Trouble trouble) {
    constexpr std::array<std::string_view, all_troubles.size()> names{
        "none", "no audio yet", "audio stalled", "receiver's audio stalled", "inputs lifeless",
        "daemon stood still",
        "guard not answering", "machine was suspended"};
    return names[static_cast<std::size_t>(trouble)];
}

/// What the keying thread sees at one moment.
struct Sight {
    Duration monotonic{0};  ///< CLOCK_MONOTONIC: stands still while the machine sleeps
    Duration slept{0};      ///< by the machine, in all
    std::uint64_t blocks = 0;
    std::uint64_t monitor_blocks = 0;
    Duration lifeless{0};      ///< all inputs exactly zero for so long
    std::uint64_t service_beats = 0;  ///< grows with each turn of the service
    bool guard_sound = false;
    bool forced_to_rest = false;      ///< by the service, whatever the engine wants
    station::Lines wanted;
};

struct KeyingLimits {
    Duration stall = std::chrono::milliseconds{100};
    Duration lifeless = std::chrono::milliseconds{150};  ///< 0: zeros are no fault
    Duration service = std::chrono::seconds{1};          ///< without a turn of the service
    bool monitor = false;                                ///< the receiver has a device of its own
    bool operator==(const KeyingLimits&) const = default;
};

/// Trouble latches: once interrupted, the lines stay at rest until clear(), even when
/// the audio comes back by itself with the engine still on the air. What was forced to rest stays there
/// until the engine has come to rest as well, or closes the key anew: on its own way back it wants the antenna at transmit for
/// a while, and a relay that has gone back is not to be thrown again.
class KeyingRule {
public:
    explicit KeyingRule(KeyingLimits limits) : limits_(limits) {}

    /// What the lines shall be now.
    station::Lines decide(const Sight& sight) noexcept;

    /// The latched one.
    Trouble trouble() const noexcept { return latched_; }
    /// What is wrong at this moment.
    Trouble present() const noexcept { return present_; }
    /// Whether the alive line may go on: nothing is wrong, and nothing was since clear().
    bool well() const noexcept { return latched_ == Trouble::none; }
    /// Ignored while something is wrong at this moment.
    void clear() noexcept { if (present_ == Trouble::none) latched_ = Trouble::none; }

private:
    Trouble look(const Sight& sight) noexcept;
    bool catches_up(const Sight& sight) const noexcept;

    KeyingLimits limits_;
    Trouble present_ = Trouble::not_started;
    Trouble latched_ = Trouble::not_started;
    bool seen_ = false;
    bool ahead_ = false;   // the lines went to rest before the engine
    Sight last_;
    Duration advanced_{0};          // monotonic time of the last callback
    Duration service_advanced_{0};
    Duration monitor_advanced_{0};
};

}  // namespace tripline::service
