// The figures of an earlier run, kept in a file to compare with.
#pragma once

#include "daemon/prove/verdict.h"

#include <filesystem>
#include <map>
#include <string>

namespace tripline::prove {

/// Figures by name, by recording.
using Baseline = std::map<std::string, std::map<std::string, double>>;

/// Of the recordings that were judged.
Baseline baseline_of(const Verdicts& verdicts);

/// JSON, indented, with newline; figures to a thousandth.
std::string to_json(const Baseline& baseline);

/// Throws std::runtime_error "file: reason".
Baseline read_baseline(const std::filesystem::path& file);

}  // namespace tripline::prove
