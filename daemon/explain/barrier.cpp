#include "daemon/explain/barrier.h"

#include "daemon/station/names.h"
#include "daemon/text/print.h"

#include <algorithm>

namespace tripline::explain {
namespace {

using replay::to_seconds;
using station::Mode;
using station::Reason;
using station::State;

/// The transmission that locked the station out before a time; null when it was before the recording.
const replay::Spell* locked_out_by(const Account& account, Duration at) {
    const auto found = std::find_if(account.spells.rbegin(), account.spells.rend(), [&](const replay::Spell& spell) {
        return spell.released <= at && (spell.reason == Reason::too_long || spell.reason == Reason::steady_tone);
    });
    return found == account.spells.rend() ? nullptr : &*found;
}

std::string cure_of_safe(const station::Settings& settings) {
    const std::string arm = "  To arm the station: tripline arm, or a in the terminal of tripline run.\n";
    if (settings.start_mode != Mode::safe) return arm;
    return arm + "  With --set station.start_mode=armed this command tells what it would have done then.\n";
}

std::string cure_of_lock(const Hop& hop, const Account& account, const station::Settings& settings) {
    const double quiet = to_seconds(settings.limits.quiet_to_clear);
    if (hop.mode == Mode::keyed) {
        return print("  To command the key anew (tripline key), or to let the voice key (tripline arm); after too_long or steady_tone\n"
                     "  either works only once the microphone has been quiet for %g s.\n", quiet);
    }
    std::string text = print("  Quiet: %g s in which nothing at the microphone is over the threshold. Nothing else lifts it.\n", quiet);
    const auto* by = locked_out_by(account, hop.at);
    if (by == nullptr) return text;
    return text + "  The transmission " + keyed_in_words(*by) + " brought it, by " + std::string(station::name(by->reason)) +
           ": see what held that.\n";
}

std::string cure_of_withholding() {
    return "  A softer loudspeaker at the microphone, or no beep of the set after an over. The wait itself ends\n"
           "  with a voice that begins soon after it and goes on, or an unmute after which nothing sounds.\n";
}

}  // namespace

std::string barrier_in_words(const Hop& hop, const Account& account, const station::Settings& settings) {
    if (hop.mode == Mode::safe) {
        const char* const why = account.of_a_capture ? ": from before the recording's beginning, by command or by station.start_mode.\n" : ": station.start_mode.\n";
        return std::string("  The station was in mode safe, and nothing keys") + (settings.start_mode == Mode::safe ? why : ".\n");
    }
    if (hop.state != State::locked_out) return {};
    if (hop.mode == Mode::keyed) return "  The forced key had been taken off the air, and does not come back by itself.\n";
    return print("  It was locked out until the microphone has been quiet for limits.quiet_to_clear_s = %g.\n",
                 to_seconds(settings.limits.quiet_to_clear));
}

std::string cure_in_words(const Hop& hop, const Account& account, const station::Settings& settings) {
    if (hop.mode == Mode::safe) return cure_of_safe(settings);
    if (hop.state == State::locked_out) return cure_of_lock(hop, account, settings);
    return hop.heard.cause == dsp::Cause::withheld ? cure_of_withholding() : std::string();
}

}  // namespace tripline::explain
