// Loading a configuration: file, command line, checks. Nothing here throws for bad input,
// and everything is safe to call from any thread but the audio callback (it allocates).
#pragma once

#include "config/problem.h"
#include "config/settings.h"

#include <filesystem>
#include <map>
#include <string>
#include <string_view>
#include <vector>

namespace tripline::config {

/// "key=value" of each --set, in order; the last one for a key counts.
using Overlays = std::vector<std::string>;

struct Loaded {
    /// What the file and the command line say; a key in error keeps its default.
    Settings settings;
    /// Where each key that was given comes from, by path. The others are defaults.
    std::map<std::string, Origin, std::less<>> origins;
    /// All that is wrong, in the order of the file, then of the command line.
    Problems problems;

    /// No errors: the settings may be used. Notes don't count.
    bool good() const;
    /// Of a key; "default" if it was not given.
    Origin origin(std::string_view path) const;
};

/// A regular file of at most 256 KiB; anything else is a problem that names it.
Loaded load(const std::filesystem::path& file, const Overlays& overlays = {});

/// The same from memory. `source` is what problems and origins call it.
Loaded load_text(std::string_view text, const std::string& source, const Overlays& overlays = {});

/// Without a file.
Loaded load_defaults(const Overlays& overlays = {});

}  // namespace tripline::config
