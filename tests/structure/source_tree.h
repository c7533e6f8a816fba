// The project's own files, as a test sees them.
#pragma once

#include <filesystem>
#include <set>
#include <string>
#include <vector>

namespace tripline::structure {

struct SourceFile {
    std::string path;  ///< from the project's root
    std::vector<std::string> lines;
    std::string text() const;
};

/// Files under these folders (the root itself: "") whose names end in one of `endings`, sorted
/// by path; build folders and version control left out. Throws std::runtime_error when none is found.
std::vector<SourceFile> files_under(const std::vector<std::string>& folders,
                                    const std::set<std::string>& endings);

/// What a file includes: `<cmath>` as "cmath", "dsp/units.h" as it stands.
std::vector<std::string> includes_of(const SourceFile& file);

}  // namespace tripline::structure
