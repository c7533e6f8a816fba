#include "daemon/lines/trial.h"

#include "daemon/lines/sharing.h"
#include "daemon/lines/trial_watch.h"

#include <cctype>
#include <csignal>
#include <cstring>

namespace tripline::lines {
namespace {

using namespace std::string_literals;

/// Beyond the limit of a trial, for a busy machine; then the second process ends it.
constexpr Duration grace = std::chrono::milliseconds(250);

/// Holds back the signals that would end the program between active and rest.
class SignalsHeld {
public:
    SignalsHeld() {
        sigset_t ending;
        ::sigemptyset(&ending);
        for (const int signal : {SIGINT, SIGTERM, SIGHUP, SIGQUIT, SIGTSTP})
            ::sigaddset(&ending, signal);
        ::pthread_sigmask(SIG_BLOCK, &ending, &before_);
    }
    ~SignalsHeld() { ::pthread_sigmask(SIG_SETMASK, &before_, nullptr); }

private:
    sigset_t before_;
};

const Wire& wire_of(std::span<const Wire> wires, Role role) {
    for (const Wire& wire : wires)
        if (wire.role == role) return wire;
    return wires[0];
}

/// What is wrong with the line after it was driven; empty: nothing.
std::string fault(const Outcome& driven, const Reading& reading, bool active) {
    if (!driven) return "could not be driven: "s + std::strerror(driven.error);
    if (!reading.outcome) return "could not be read back: "s + std::strerror(reading.outcome.error);
    if (reading.known && reading.active != active)
        return "was driven "s + (active ? "active" : "to rest") + " but reads back " +
               (reading.active ? "active" : "at rest");
    return {};
}

/// Active for the limit and back; what went wrong, or empty.
std::string pulse(Device& device, const Wire& wire, Attendant& attendant) {
    const SignalsHeld held;
    const TrialWatch watch(device, wire, trial_limit + grace);
    if (!watch.stands()) return "was not switched: there is no second process that would end the trial";
    const Outcome on = device.drive(wire, true);
    const std::string first = fault(on, device.read(wire), true);
    if (first.empty()) attendant.wait(trial_limit);
    const Outcome off = device.drive(wire, false);
    const std::string second = fault(off, device.read(wire), false);
    return second.empty() ? first : second;
}

/// Anything but a plain yes is a no.
bool says_yes(std::string answer) {
    for (char& c : answer) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    return answer == "y" || answer == "yes";
}

TrialResult try_open_line(Device& device, const Wire& wire, Attendant& attendant) {
    const std::string role(name(wire.role));
    const Reading before = device.read(wire);
    if (!before.outcome) {
        attendant.say(role + ": its state cannot be read back, so it is not tried: " +
                      std::strerror(before.outcome.error));
        return TrialResult::refused;
    }
    if (before.known && before.active) {
        attendant.say(role + ": the line reads back active though it was driven to rest");
        return TrialResult::failed;
    }
    if (!before.known)
        attendant.say(role + ": this kind of line cannot be read back; watch the equipment");
    if (attendant.ask("Type " + role + " to switch it for one second: ") != role) {
        attendant.say(role + ": declined, nothing switched");
        return TrialResult::declined;
    }
    if (const std::string wrong = pulse(device, wire, attendant); !wrong.empty()) {
        attendant.say(role + ": the line " + wrong);
        return TrialResult::failed;
    }
    const bool seen = says_yes(attendant.ask("Did it switch and go back? (yes/no)"));
    attendant.say(role + (seen ? ": confirmed" : ": NOT confirmed"));
    return seen ? TrialResult::moved : TrialResult::unmoved;
}

}  // namespace

TrialResult try_line(const Wiring& wiring, Role role, Attendant& attendant) {
    const std::vector<Wire> wires = wires_beside(wiring, role);
    if (wires.empty()) {
        attendant.say(std::string(name(role)) + ": not wired");
        return TrialResult::refused;
    }
    try {
        const std::unique_ptr<Device> device = open_device(wires);
        return try_open_line(*device, wire_of(wires, role), attendant);
    } catch (const OpenError& error) {
        attendant.say(error.what());
        return TrialResult::failed;
    }
}

}  // namespace tripline::lines
