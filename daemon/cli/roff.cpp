#include "daemon/cli/roff.h"

#include "config/wrap.h"

namespace tripline::cli {

std::string roff_escaped(std::string_view text) {
    std::string out;
    bool line_start = true;
    for (const char c : text) {
        if (line_start && (c == '.' || c == '\'')) out += "\\&";
        if (c == '\\') {
            out += "\\e";
        } else if (c == '-') {
            out += "\\-";
        } else if (c == '`') {
            out += "\\(ga";
        } else {
            out += c;
        }
        line_start = c == '\n';
    }
    return out;
}

Roff::Roff(std::string_view title, int section, std::string_view source) {
    line(".TH " + std::string(title) + ' ' + std::to_string(section) + " \"\" \"" +
         std::string(source) + "\" \"Tripline manual\"");
}

void Roff::section(std::string_view title) {
    line(".SH " + std::string(title));
    under_heading_ = true;
}

void Roff::subsection(std::string_view title) {
    line(".SS \"" + roff_escaped(title) + '"');
    under_heading_ = true;
}

void Roff::paragraph(std::string_view text) {
    break_paragraph();
    prose(text);
}

void Roff::item(std::string_view term, std::string_view text) {
    line(".TP");
    line("\\fB" + roff_escaped(term) + "\\fR");
    prose(text);
    under_heading_ = false;
}

void Roff::more(std::string_view text) {
    line(".br");
    prose(text);
}

void Roff::verbatim(std::string_view text) {
    break_paragraph();
    line(".nf");
    line(roff_escaped(text));
    line(".fi");
}

/// A heading breaks by itself.
void Roff::break_paragraph() {
    if (!under_heading_) line(".PP");
    under_heading_ = false;
}

void Roff::prose(std::string_view text) {
    const auto wrapped = config::wrap(text, "", 72);
    line(roff_escaped(wrapped));
}

void Roff::line(std::string_view macro) {
    text_ += macro;
    if (!macro.ends_with('\n')) text_ += '\n';
}

}  // namespace tripline::cli
