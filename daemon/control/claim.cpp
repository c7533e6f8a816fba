#include "daemon/control/claim.h"

#include "daemon/control/other_station.h"
#include "dsp/units.h"

#include <fcntl.h>
#include <poll.h>
#include <sys/file.h>

#include <filesystem>

namespace tripline::control {

namespace {

using std::chrono_literals::operator""ms;
using std::chrono_literals::operator""s;

constexpr Duration longest_turn = 3s;  // of somebody else: then it goes without

/// Over with the descriptor.
lines::Descriptor turn_at(const std::filesystem::path& folder) {
    lines::Descriptor held(::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC));
    for (Duration waited{0}; held && waited < longest_turn; waited += 10ms) {
        if (::flock(held.get(), LOCK_EX | LOCK_NB) == 0) break;
        ::poll(nullptr, 0, 10);
    }
    return held;
}

}  // namespace

std::unique_ptr<Listener> claim(const std::string& path) {
    const lines::Descriptor turn = turn_at(std::filesystem::absolute(path).parent_path());
    refuse_beside_another(path);
    return std::make_unique<Listener>(path);
}

}  // namespace tripline::control
