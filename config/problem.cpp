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

std::vector<std::string> as_told(std::vector<std::string> texts) {
    if (texts.size() <= most_told) return texts;
    const std::size_t more = texts.size() - most_told;
    texts.resize(most_told);
    texts.push_back(more == 1 ? "1 more problem is not told here" : std::to_string(more) + " more problems are not told here");
    return texts;
}

}  // namespace tripline::config
