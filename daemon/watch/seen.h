// What a watcher has been told by the station so far.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace tripline::watch {

struct Seen {
    std::string station = "no word yet";  ///< phase, or what is wrong
    std::string missing;          ///< what it goes without, or empty
    std::string mode = "?";
    std::string state = "?";
    std::string reason = "none";  ///< of the last change of lines
    std::string cause = "quiet";  ///< why the gate stands as it stands
    bool key = false;
    bool levels = false;          ///< at least one has come: what follows is true
    double on_air_s = 0;
    double longest_over_s = 0;    ///< the time limit; 0: not told yet
    double microphone_dbfs = -200, receiver_dbfs = -200, leak_dbfs = -200, threshold_dbfs = -200;
    double margin_db = 0;
    std::vector<std::string> told;  ///< the last events in words, the newest last
    unsigned events = 0;            ///< how many there were
};

/// Enough to show: levels, or why there are none.
inline bool worth_showing(const Seen& seen) { return seen.state != "?" && (seen.levels || seen.station != "running"); }

/// The key is closed because the operator forces it.
inline bool by_hand(const Seen& seen) { return seen.key && seen.mode == "keyed"; }

/// The daemon has answered nothing for a while: what was seen last is no longer known to be so.
void lose(Seen& seen);

/// Takes a line of the protocol; one that is of no use changes nothing.
void take(Seen& seen, std::string_view line);

}  // namespace tripline::watch
