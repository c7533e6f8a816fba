// The figures of a recording, brought down to the columns of a picture.
#pragma once

#include "dsp/heard.h"

#include <vector>

namespace tripline::picture {

/// Lowest and highest of what fell into a column.
struct Extent {
    double low = 0;
    double high = 0;
};

/// Levels in dBFS; -200 for silence.
struct Column {
    bool filled = false;   ///< anything fell into it
    Extent microphone;
    Extent receiver;
    Extent leak;
    Extent threshold;
    bool voice = false;    ///< the gate was open at some time in it
};

/// Keeps extremes, so that no peak is lost however long the recording. Its size depends on the
/// number of columns alone.
class Columns {
public:
    /// `length` of the recording, more than 0.
    Columns(std::size_t count, Frames length) : columns_(count), length_(length) {}

    /// A verdict at a time from the start of the recording; later ones than `length` go into
    /// the last column.
    void take(Frames at, const dsp::Heard& heard);

    const std::vector<Column>& all() const { return columns_; }

private:
    std::vector<Column> columns_;
    Frames length_;
};

}  // namespace tripline::picture
