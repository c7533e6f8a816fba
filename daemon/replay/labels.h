// Who speaks when: labels in RTTM, the NIST rich transcription time marked format.
#pragma once

#include "dsp/units.h"

#include <filesystem>
#include <iosfwd>
#include <string>
#include <string_view>
#include <vector>

namespace tripline::replay {

/// One SPEAKER line: ten fields, of which these five carry something here.
struct Label {
    std::string file;      ///< the recording's name without folder and extension
    int channel = 1;       ///< counted from 1
    Duration onset{};
    Duration length{};
    std::string name;      ///< who speaks
    bool operator==(const Label&) const = default;
};

/// Reads every SPEAKER line. Blank lines and lines that begin with ';' are comments.
/// `origin` names the text in errors. Throws std::runtime_error "origin:line: reason"
/// for anything else, for numbers out of range and for a negative length.
std::vector<Label> parse_labels(std::istream& text, std::string_view origin);

/// Throws std::runtime_error also when the file cannot be read.
std::vector<Label> read_labels(const std::filesystem::path& path);

/// One line a label, times to the millisecond.
void write_labels(std::ostream& text, const std::vector<Label>& labels);

}  // namespace tripline::replay
