// How long each state lasts, in frames.
#pragma once

#include "daemon/station/settings.h"

namespace tripline::station {

/// States without a time of their own have none: conditions end them.
class Timetable {
public:
    Timetable(const SequenceSettings& sequence, Duration loudspeaker_fade, Hertz rate);

    Frames time_in(State state) const noexcept { return times_[static_cast<std::size_t>(state)]; }

private:
    std::array<Frames, all_states.size()> times_{};
};

/// From the decision to transmit until the transmitter is ready: what a look-ahead has to
/// cover besides the detector's own time.
Duration time_to_air(const SequenceSettings& sequence, Duration loudspeaker_fade);

/// The look-ahead that covers a clear beginning with these settings: qualifying and the attack of
/// the envelope, or in a restless room the time a pitch takes to show and has to last; the hops
/// until the detector has looked; and the time to the air. A soft beginning is heard later, and
/// more of it is lost.
Duration advised_look_ahead(const Settings& settings);

}  // namespace tripline::station
