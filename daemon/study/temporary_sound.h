// The sound kept, as a file for those who read recordings.
#pragma once

#include "daemon/black_box/black_box.h"
#include "daemon/replay/recording.h"

namespace tripline::study {

/// In a folder of its own, readable by nobody else; gone with this object.
class TemporarySound {
public:
    /// Throws std::runtime_error and std::filesystem::filesystem_error.
    explicit TemporarySound(const black_box::KeptSound& kept);
    ~TemporarySound();
    TemporarySound(const TemporarySound&) = delete;
    TemporarySound& operator=(const TemporarySound&) = delete;

    const replay::RecordingSource& source() const noexcept { return source_; }

private:
    std::filesystem::path folder_;
    replay::RecordingSource source_;
};

}  // namespace tripline::study
