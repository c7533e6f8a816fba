// Files of the daemon: what the room sounded like is nobody else's.
#pragma once

#include <sys/stat.h>

namespace tripline::cli {

/// New files of this process are closed to others, and to be written by the owner alone; a stricter mask stays. First in
/// main(), before there are threads.
inline void keep_files_private() noexcept {
    constexpr mode_t from_others = 0027;
    const mode_t before = ::umask(0777);
    ::umask(before | from_others);
}

}  // namespace tripline::cli
