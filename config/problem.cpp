#include "config/problem.h"

namespace tripline::config {

std::string to_string(const Origin& origin) {
    if (origin.line == 0) return origin.source;
    return origin.source + ':' + std::to_string(origin.line) + ':' + std::to_string(origin.column);
}

std::string to_string(const Problem& problem) {
    std::string text = to_string(problem.at) + ": ";
    if (problem.severity == Severity::note) text += "note: ";
    if (!problem.key.empty()) text += problem.key + ": ";
    text += problem.what;
    if (!problem.allowed.empty()) text += "; allowed: " + problem.allowed;
    if (!problem.suggestion.empty()) text += "; did you mean " + problem.suggestion + "?";
    return text;
}

}  // namespace tripline::config
