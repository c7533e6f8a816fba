// Who is let in: the head of a request against the rules. Pure.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace tripline::web {

inline constexpr std::size_t longest_body = 4096;

/// The head of a request, as far as it matters; a header that is absent is empty.
struct Head {
    std::string method;
    std::string path;
    std::string host;
    std::string origin;
    std::string fetch_site;      ///< Sec-Fetch-Site
    std::string content_type;
    std::string authorization;
    std::string content_length;
};

struct Rules {
    std::vector<std::string> hosts;   ///< Host headers under which the page may be reached
    std::string token;
    bool token_to_read = false;       ///< served beyond this computer
};

/// HTTP status: 200 when it may come in.
struct Verdict {
    unsigned status = 200;
    const char* why = "";
};

Verdict admit(const Head& head, const Rules& rules);

/// In a time that does not tell how much of it is right.
bool same(std::string_view token, std::string_view given);

}  // namespace tripline::web
