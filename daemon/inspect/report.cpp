#include "daemon/inspect/inspection.h"

#include <algorithm>

namespace tripline::inspect {
namespace {

std::string padded(std::string text, std::size_t width) {
    text.resize(std::max(text.size(), width), ' ');
    return text;
}

std::size_t widest(const Findings& findings, std::string Finding::*column, std::size_t least) {
    for (const Finding& finding : findings) least = std::max(least, (finding.*column).size());
    return least + 2;
}

}  // namespace

std::string to_text(const Findings& findings) {
    const std::size_t figure = widest(findings, &Finding::figure, 6);
    const std::size_t limit = widest(findings, &Finding::limit, 5);
    const auto row = [&](const std::string& what, const std::string& channel, const std::string& found,
                         const std::string& allowed, const std::string& verdict) {
        return padded(what, 10) + padded(channel, 12) + padded(found, figure) + padded(allowed, limit) + verdict + '\n';
    };
    std::string text = row("check", "channel", "figure", "limit", "");
    for (const Finding& f : findings) text += row(f.what, f.channel, f.figure, f.limit, f.good ? "good" : "BAD");
    for (const Finding& f : findings) {
        if (!f.good) text += '\n' + f.channel + ", " + f.what + ": " + f.cure + '\n';
    }
    return text;
}

}  // namespace tripline::inspect
