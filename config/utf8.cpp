#include "config/utf8.h"

namespace tripline::config {
namespace {

struct Lead {
    std::size_t length;   ///< bytes in all; 0: no lead byte
    unsigned char least;  ///< of the second byte
    unsigned char most;
};

/// Table 3-7 of the Unicode standard: no overlong forms, no surrogates, nothing over U+10FFFF.
Lead lead_of(unsigned char byte) {
    if (byte < 0x80) return {1, 0, 0};
    if (byte >= 0xC2 && byte <= 0xDF) return {2, 0x80, 0xBF};
    if (byte == 0xE0) return {3, 0xA0, 0xBF};
    if (byte == 0xED) return {3, 0x80, 0x9F};
    if (byte >= 0xE1 && byte <= 0xEF) return {3, 0x80, 0xBF};
    if (byte == 0xF0) return {4, 0x90, 0xBF};
    if (byte >= 0xF1 && byte <= 0xF3) return {4, 0x80, 0xBF};
    if (byte == 0xF4) return {4, 0x80, 0x8F};
    return {0, 0, 0};
}

bool within(std::string_view text, std::size_t at, unsigned char least, unsigned char most) {
    if (at >= text.size()) return false;
    const auto byte = static_cast<unsigned char>(text[at]);
    return byte >= least && byte <= most;
}

}  // namespace

std::size_t well_formed_utf8(std::string_view text) {
    std::size_t at = 0;
    while (at < text.size()) {
        const auto lead = lead_of(static_cast<unsigned char>(text[at]));
        if (lead.length == 0) return at;
        if (lead.length > 1 && !within(text, at + 1, lead.least, lead.most)) return at;
        for (std::size_t i = 2; i < lead.length; ++i) {
            if (!within(text, at + i, 0x80, 0xBF)) return at;
        }
        at += lead.length;
    }
    return at;
}

}  // namespace tripline::config
