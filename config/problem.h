// What is wrong with a configuration, and where.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

namespace tripline::config {

/// Where a value was written. Lines and columns count from 1; for --set the line is the
/// position among the --set options and the column one in its text.
struct Origin {
    std::string source = "default";
    int line = 0;
    int column = 0;
    bool operator==(const Origin&) const = default;
};

/// "default" or "source:line:column".
std::string to_string(const Origin& origin);

enum class Severity : unsigned char {
    error,  ///< the configuration can't be used
    note,   ///< it can; the operator should know
};

struct Problem {
    Origin at;
    std::string key;         ///< path, or empty
    std::string what;        ///< what is wrong
    std::string allowed;     ///< what would be right, or empty
    std::string suggestion;  ///< what was meant, perhaps, or empty
    Severity severity = Severity::error;
};

/// One line: "file:line:column: key: what; allowed: ...; did you mean ...?"
std::string to_string(const Problem& problem);

using Problems = std::vector<Problem>;

/// More than this are not told one by one: a file with more is something else, or one mistake has made the others.
inline constexpr std::size_t most_told = 50;

/// The first of the texts, and one that says how many more there are.
std::vector<std::string> as_told(std::vector<std::string> texts);

}  // namespace tripline::config
