// A keyed station of file lines, ready for a fault.
#pragma once

#include "tests/faults/child.h"
#include "tests/faults/fault_table.h"
#include "tests/faults/line_log.h"
#include "tests/faults/shim.h"

#include <memory>
#include <random>

namespace tripline::faults {

/// A folder of its own under the system's temporary one, removed at the end.
class Folder {
public:
    Folder();
    ~Folder();
    std::filesystem::path path;
};

/// Shared memory for the shim of one guard.
class ShimFile {
public:
    explicit ShimFile(const std::filesystem::path& folder);
    ~ShimFile();
    Shim* operator->() const noexcept { return shim_; }
    /// What loads the shim into a child.
    std::vector<std::string> environment() const;

private:
    std::string path_;
    Shim* shim_;
};

/// Process id of a guard's backstop; -1: it has none.
pid_t backstop_of(pid_t guard);

/// keyer (see keyer.cpp) with its guard, on the air.
struct Station {
    Folder folder;
    ShimFile shim{folder.path};
    LineLog lines{folder.path / "lines"};
    std::unique_ptr<Child> daemon;
    pid_t guard = -1;

    pid_t backstop() const { return backstop_of(guard); }

    /// Starts, keys, and waits a random time so that the fault meets any phase of the
    /// heartbeat. Throws std::runtime_error when the station does not get on the air.
    Station();
    /// Time from `fault` to the record that opens the key, noted in the table's row.
    void measure(const std::string& row, Duration bound, Instant fault) const;
};

}  // namespace tripline::faults
