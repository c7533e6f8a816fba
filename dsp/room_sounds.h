// Remembers the sounds that are not the operator, and tells the room's from those of the station's own relays.
#pragma once

#include "dsp/clutter.h"
#include "dsp/relay_noise.h"

namespace tripline::dsp {

/// What sounds while the relays settle may be theirs or the room's: it is held against every sound, until it has
/// proved to be the relays', which are to be outdone only where they sound. One call a hop.
class RoomSounds {
public:
    RoomSounds(const DetectorSettings& settings, double hop_seconds)
        : enabled_(settings.evidence.clutter.enabled),
          room_(settings.evidence.clutter, hop_seconds),
          unclear_(settings.evidence.clutter, hop_seconds),
          relays_(settings.blanking, hop_seconds) {}

    void relays_moved() noexcept { relays_.relays_moved(); }

    /// As Clutter has it.
    Power operator()(Power power, Power floor, Power most, bool keyed) noexcept {
        if (!enabled_) return 0;
        const bool unclear = relays_.settling() && !relays_.known();
        const Power relays = relays_(power, floor, keyed);
        const Power sound = power > relays ? power : 0.0F;
        if (relays_.known()) unclear_.forget();
        return std::max({std::min(relays, most), room_(unclear ? 0.0F : sound, floor, most, keyed),
                         unclear_(unclear ? sound : 0.0F, floor, most, keyed)});
    }

    /// Whether the relays have never made as much: nothing is known until they were heard.
    bool outdoes_relays(Power power) const noexcept { return relays_.known() && power > relays_.expected(); }

    bool wary() const noexcept { return room_.wary() || unclear_.wary(); }
    void mistaken(Power peak) noexcept { room_.mistaken(peak); }

    void reset() noexcept {
        room_.reset();
        unclear_.reset();
        relays_.reset();
    }
    /// What holds beyond the moment.
    template <typename Visit> void memory_of_learning(Visit& visit) {
        room_.memory(visit);
        unclear_.memory(visit);
        relays_.memory_of_learning(visit);
    }
    template <typename Visit> void memory_of_moment(Visit& visit) { relays_.memory_of_moment(visit); }

private:
    bool enabled_;
    Clutter room_, unclear_;
    RelayNoise relays_;
};

}  // namespace tripline::dsp
