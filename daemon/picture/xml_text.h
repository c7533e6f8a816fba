// Any bytes as text of an XML document.
#pragma once

#include <string>
#include <string_view>

namespace tripline::picture {

/// For content and attributes of XML 1.0 in UTF-8: markup is escaped; bytes that XML or UTF-8
/// has no place for become '?'.
std::string xml_text(std::string_view text);

}  // namespace tripline::picture
