// The station in at most 80 columns of plain characters.
#pragma once

#include "daemon/watch/peak_hold.h"
#include "daemon/watch/seen.h"

#include <string>
#include <vector>

namespace tripline::watch {

inline constexpr std::size_t columns = 80;

/// "[=======|==    !          ]": the level as =, the threshold as |, the peak as !, from
/// -80 to 0 dBFS. A threshold outside is left out.
std::string meter(double level_dbfs, double peak_dbfs, double threshold_dbfs);

/// What the operator has to know first, in words: "ON THE AIR", "receiving" ...
std::string headline(const Seen& seen);
/// Why the gate stands as it stands, in words.
std::string why(const Seen& seen);

/// One line for a pipe or a screen reader.
std::string plain_line(const Seen& seen);

/// The lines of the screen, one after another. For one thread.
class Picture {
public:
    std::vector<std::string> operator()(const Seen& seen, Duration now);

private:
    std::vector<std::string> meters(const Seen& seen, Duration now);

    PeakHold microphone_, receiver_, leak_;
};

}  // namespace tripline::watch
