#include "daemon/picture/xml_text.h"

#include "config/utf8.h"

namespace tripline::picture {
namespace {

void append(std::string& out, char c) {
    switch (c) {
        case '&': out += "&amp;"; return;
        case '<': out += "&lt;"; return;
        case '>': out += "&gt;"; return;
        case '"': out += "&quot;"; return;
        default: break;
    }
    const bool control = static_cast<unsigned char>(c) < 0x20 || c == 0x7f;
    out += control ? '?' : c;
}

}  // namespace

std::string xml_text(std::string_view text) {
    std::string out;
    while (!text.empty()) {
        const std::size_t good = config::well_formed_utf8(text);
        for (const char c : text.substr(0, good)) append(out, c);
        if (good == text.size()) break;
        out += '?';
        text.remove_prefix(good + 1);
    }
    return out;
}

}  // namespace tripline::picture
