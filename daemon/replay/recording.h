// A recording of microphone and receiver, read in blocks.
#pragma once

#include "dsp/units.h"

#include <filesystem>
#include <memory>
#include <span>
#include <vector>

namespace tripline::replay {

class Track;

/// Which file and which channels, counted from 1.
struct RecordingSource {
    std::filesystem::path file{};
    std::filesystem::path monitor{}; ///< empty: the receiver is in `file`
    int microphone_channel = 1;
    int receiver_channel = 0;        ///< 0: the second of `file`, or the first of `monitor`
    bool no_receiver = false;        ///< there is no receiver audio: taken as silence
};

/// The same for a station whose receiver is on this channel; 0 for one without receiver audio, which hears none
/// of a recording either unless its channel or file is named.
RecordingSource for_station(RecordingSource source, int receiver_channel);

/// Memory does not grow with the length. Everything libsndfile reads, 8 to 192 kHz.
class Recording {
public:
    /// Throws std::runtime_error "file: reason" for a file that is missing, empty, not
    /// sound, truncated, out of range in its rate, without the channels asked for, or
    /// unlike its monitor in rate or by more than 0.1 s in length.
    explicit Recording(const RecordingSource& source);
    ~Recording();

    Hertz rate() const;
    Frames length() const { return length_; }

    struct Block {
        std::span<const float> microphone;
        std::span<const float> receiver;   ///< empty with `no_receiver`
    };
    /// The next block, at most block_frames() long; empty at the end. Its samples are good
    /// until the next call. Throws std::runtime_error naming file and place for a sample
    /// that is not finite, and for a file that ends before its header says.
    Block next();

    static constexpr std::size_t block_frames() { return 4096; }

private:
    void check_monitor(const RecordingSource& source) const;

    std::unique_ptr<Track> microphone_;
    std::unique_ptr<Track> monitor_;   ///< null: the receiver is in the same file, or there is none
    int microphone_channel_;
    int receiver_channel_;             ///< 0: no receiver
    Frames length_;
    Frames at_;
    std::vector<float> microphone_samples_;
    std::vector<float> receiver_samples_;
};

}  // namespace tripline::replay
