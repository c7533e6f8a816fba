// One sound file, read in blocks, a channel at a time.
#pragma once

#include "dsp/units.h"

#include <sndfile.hh>

#include <filesystem>
#include <span>
#include <string>
#include <vector>

namespace tripline::replay {

class Track {
public:
    /// Throws std::runtime_error "file: reason".
    explicit Track(const std::filesystem::path& path);

    Hertz rate() const { return Hertz{static_cast<double>(file_.samplerate())}; }
    Frames length() const { return {file_.frames()}; }
    int channels() const { return file_.channels(); }

    /// Throws std::runtime_error when the file has no such channel (from 1).
    void require_channel(int channel) const;

    /// Reads exactly this many frames. Throws std::runtime_error when the file ends before.
    void read(Frames frames);
    /// One channel (from 1) of what was read last, into `out`. Throws std::runtime_error
    /// naming the place of a sample that is not finite.
    void copy_channel(int channel, std::span<float> out) const;

private:
    [[noreturn]] void reject(const std::string& reason) const;
    void check_complete();

    std::string name_;
    SndfileHandle file_;
    std::vector<float> interleaved_;
    Frames at_;   ///< of the first frame read last
};

}  // namespace tripline::replay
