// Words for what the daemon reports about itself.
#pragma once

#include "daemon/guard/client.h"
#include "daemon/lines/settings.h"
#include "daemon/service/keying_rule.h"
#include "daemon/service/messages.h"
#include "daemon/service/phase.h"
#include "daemon/station/event.h"

#include <string>
#include <utility>
#include <vector>

namespace tripline::service {

struct Line {
    Message message;
    std::vector<std::string> arguments;
};

/// For systemd's STATUS.
std::string status_text(Phase phase, Trouble present, const std::string& absence);
/// Behind that: what the station goes without.
std::string missing_text(const std::vector<std::string>& missing);
/// How the station stands once mode armed or safe was commanded.
struct Commanded {
    station::Mode mode = station::Mode::armed;
    bool was_forced = false;   ///< the mode before was keyed
    bool keying = false;       ///< the station was on the air, or on its way to it
    bool held = false;         ///< by a voice as well, or its hang time
    bool key_open = true;      ///< as the guard tells
    bool keys_now = false;     ///< the station is on the air at the time of the answer, or on its way to it
    bool quiet_awaited = false;  ///< locked out, and the mode alone does not lift that
    std::string unready{};     ///< why the station cannot key yet; or empty
};
/// In a sentence.
std::string in_words(const Commanded& commanded);
/// The same where another command came before the answer.
std::string overtaken_text(station::Mode now);
/// The same of a forced key that was obeyed, in an over that lasts so long already.
std::string forced_text(Duration longest_over, Duration on_air);
/// Of one that was not: why, what helps, and the mode that the station is left in. `why`: what the last change of lines began by.
std::string key_refusal(bool fault_stands, station::Reason why, Duration quiet_to_clear, station::Mode left_in);
/// Until when nothing keys after a time-out or a steady tone.
std::string lock_end_text(station::Mode mode);
/// An unkey in a mode where there is nothing to end.
std::string nothing_forced_text(station::Mode mode, bool key_closed);
/// After what was marked: where that is kept, and whether sound is. `no_sound`: why none is asked for, or empty.
std::string mark_kept_text(bool has_log, const std::string& no_sound);
/// What is wrong with a setting, without its place where it stands in no file.
std::string without_set_place(const std::string& problem);
/// Of lines that no guard could drive to rest: why, and what is to be done. `notice`: the guard's last word, or empty.
std::vector<std::string> unknown_lines(const guard::Status& status, const std::string& notice, const lines::Wiring& wiring);
/// What is worth a line when the guard's status goes from one to the other.
std::vector<Line> guard_lines(const guard::Status& before, const guard::Status& after);

}  // namespace tripline::service
