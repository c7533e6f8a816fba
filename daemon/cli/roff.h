// A manual page in roff's man macros, written piece by piece.
#pragma once

#include <string>
#include <string_view>

namespace tripline::cli {

class Roff {
public:
    /// "TRIPLINE", 1, "Tripline 0.1.0"
    Roff(std::string_view title, int section, std::string_view source);

    void section(std::string_view title);  ///< upper case by custom
    void subsection(std::string_view title);
    void paragraph(std::string_view text);
    /// A term in bold with its explanation indented under it.
    void item(std::string_view term, std::string_view text);
    /// More about the item.
    void more(std::string_view text);
    /// Lines kept as they are.
    void verbatim(std::string_view text);

    const std::string& text() const { return text_; }

private:
    void break_paragraph();
    void prose(std::string_view text);
    void line(std::string_view macro);

    std::string text_;
    bool under_heading_ = false;
};

/// Text that roff prints as it stands: backslashes, dashes and leading dots escaped.
std::string roff_escaped(std::string_view text);

}  // namespace tripline::cli
