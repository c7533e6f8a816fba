// That the station was put to safe, kept beyond the end of the program: whoever works on the
// equipment is not to be armed again by a crash, a watchdog or a power cut.
#pragma once

#include <optional>
#include <string>

namespace tripline::service {

/// For one thread.
class KeptSafe {
public:
    /// `folder`: for what outlives the program; empty: nothing is kept.
    explicit KeptSafe(const std::string& folder);

    /// The station was left in safe.
    bool kept() const noexcept { return kept_; }
    /// Safe, or no longer. Waits for the disk. What went wrong, or empty.
    std::string keep(bool safe);

private:
    std::string path_;   ///< of a file that is there while safe is kept; empty: nowhere
    bool kept_;          ///< when this was made
    std::optional<bool> now_;  ///< none: a change failed, and the file may or may not be there
};

}  // namespace tripline::service
