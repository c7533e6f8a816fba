#include "daemon/explain/ending.h"

#include "daemon/explain/held.h"
#include "daemon/station/names.h"
#include "daemon/text/print.h"

#include <algorithm>
#include <cmath>

namespace tripline::explain {
namespace {

using replay::to_seconds;
using station::Reason;

/// The time of the last gate event of that kind before, or the first after, a time.
std::optional<Duration> last_voice_end(const Account& account, Duration before) {
    std::optional<Duration> found;
    for (const auto& event : account.events) {
        if (account.time_of(event) > before) break;
        if (event.kind == station::EventKind::voice && !event.heard.voice) found = account.time_of(event);
    }
    return found;
}

std::optional<Duration> next_voice(const Account& account, Duration after) {
    const auto found = std::ranges::find_if(account.events, [&](const station::Event& event) {
        return event.kind == station::EventKind::voice && event.heard.voice && account.time_of(event) > after;
    });
    return found == account.events.end() ? std::nullopt : std::optional(account.time_of(*found));
}

double ms(Duration time) { return replay::to_ms(time); }

std::string of_silence(const replay::Spell& spell, const Account& account, const station::Settings& settings) {
    const auto end = last_voice_end(account, spell.released);
    if (!end) return "  No voice was heard.\n";
    std::string text = print("  No voice from %.3f s on, for the hang time of gate.hold_ms = %g.\n", to_seconds(*end),
                             ms(settings.detector.hold));
    const auto next = next_voice(account, spell.released);
    if (!next) return text + "  None was heard again in this recording.\n";
    const Duration gap = *next - *end;
    text += print("  The next was heard at %.3f s, %.3f s after the last", to_seconds(*next), to_seconds(gap));
    constexpr double longest_hold_ms = 10000;
    if (ms(gap) > longest_hold_ms) return text + ".\n";
    return text + print(":\n  gate.hold_ms = %.0f would have held the key, %.0f ms more than it is.\n",
                        std::ceil(ms(gap)) + 1, std::ceil(ms(gap)) + 1 - ms(settings.detector.hold));
}

}  // namespace

std::string ending_in_words(const replay::Spell& spell, const Account& account, const station::Settings& settings) {
    switch (spell.reason) {
        case Reason::none: return "  It did not: the recording ends.\n";
        case Reason::silence: return of_silence(spell, account, settings);
        case Reason::too_long:
            return print("  The longest over cut it, limits.longest_over_s = %g, and the station was locked out until the\n"
                         "  microphone had been quiet for limits.quiet_to_clear_s = %g.\n",
                         to_seconds(settings.limits.longest_over), to_seconds(settings.limits.quiet_to_clear)) +
                   held_in_words(spell, account, settings);
        case Reason::steady_tone:
            return "  The sound stayed level: a tone or a hum, not speech. It belongs out of the\n"
                   "  microphone's signal; no setting of the gate lets it pass.\n";
        case Reason::not_speech:
            if (spell.heard.cause == dsp::Cause::murmur) return "  What had keyed, by its pitch alone, showed no mark of speech and was let go.\n";
            return "  What had keyed showed no mark of speech and was let go. A higher threshold keeps\n"
                   "  such a sound off the air from its beginning.\n";
        case Reason::unkeyed: return "  The operator ended the forced transmission.\n";
        case Reason::safe: return "  The operator's mode went to safe.\n";
        case Reason::fault: return "  A fault of sound, guard or line was told.\n";
        case Reason::not_finite: return "  A sample was not a finite number.\n";
        case Reason::reload: return "  New settings were waiting.\n";
        default: return print("  Reason: %s.\n", std::string(station::name(spell.reason)).c_str());
    }
}

}  // namespace tripline::explain
