#include "daemon/station/names.h"

namespace tripline::station {

std::string_view name(State state) noexcept {
    switch (state) {
        case State::rest: return "rest";
        case State::muting: return "muting";
        case State::antenna_to_transmit: return "antenna_to_transmit";
        case State::settling: return "settling";
        case State::on_air: return "on_air";
        case State::hold: return "hold";
        case State::unkeying: return "unkeying";
        case State::antenna_to_receive: return "antenna_to_receive";
        case State::unmuting: return "unmuting";
        case State::locked_out: return "locked_out";
    }
    return "unknown";
}

std::string_view name(Mode mode) noexcept {
    switch (mode) {
        case Mode::armed: return "armed";
        case Mode::safe: return "safe";
        case Mode::keyed: return "keyed";
    }
    return "unknown";
}

std::string_view name(EventKind kind) noexcept {
    switch (kind) {
        case EventKind::state: return "state";
        case EventKind::voice: return "voice";
        case EventKind::mode: return "mode";
        case EventKind::reset: return "reset";
    }
    return "unknown";
}

std::string_view name(Reason reason) noexcept {
    switch (reason) {
        case Reason::none: return "none";
        case Reason::voice: return "voice";
        case Reason::silence: return "silence";
        case Reason::step: return "step";
        case Reason::forced: return "forced";
        case Reason::unkeyed: return "unkeyed";
        case Reason::safe: return "safe";
        case Reason::too_long: return "too_long";
        case Reason::lifted: return "lifted";
        case Reason::steady_tone: return "steady_tone";
        case Reason::not_speech: return "not_speech";
        case Reason::fault: return "fault";
        case Reason::not_finite: return "not_finite";
        case Reason::reload: return "reload";
        case Reason::refused: return "refused";
    }
    return "unknown";
}

std::string_view end_name(Reason reason) noexcept { return reason == Reason::none ? "end_of_sound" : name(reason); }

std::string_view name(dsp::Cause cause) noexcept {
    using dsp::Cause;
    switch (cause) {
        case Cause::quiet: return "quiet";
        case Cause::voice: return "voice";
        case Cause::murmur: return "murmur";
        case Cause::qualifying: return "qualifying";
        case Cause::masked: return "masked";
        case Cause::blanked: return "blanked";
        case Cause::withheld: return "withheld";
        case Cause::not_speech: return "not_speech";
        case Cause::steady: return "steady";
        case Cause::not_finite: return "not_finite";
    }
    return "unknown";
}

}  // namespace tripline::station
