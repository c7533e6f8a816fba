#include "daemon/web/door.h"

#include <algorithm>
#include <charconv>

namespace tripline::web {
namespace {

bool one_of(const std::vector<std::string>& hosts, std::string_view host) {
    return std::ranges::find(hosts, host) != hosts.end();
}

/// Of this page itself, or of a program that is no browser.
bool own_origin(const Head& head, const Rules& rules) {
    if (!head.fetch_site.empty() && head.fetch_site != "same-origin" && head.fetch_site != "none") return false;
    if (head.origin.empty()) return true;
    for (const std::string_view scheme : {"http://", "https://"}) {
        const std::string_view origin = head.origin;
        if (origin.starts_with(scheme)) return one_of(rules.hosts, origin.substr(scheme.size()));
    }
    return false;
}

bool has_token(const Head& head, const Rules& rules) {
    constexpr std::string_view scheme = "Bearer ";
    const std::string_view given = head.authorization;
    return given.starts_with(scheme) && same(rules.token, given.substr(scheme.size()));
}

/// None given: nothing comes, or it comes in pieces that are counted as they do.
bool body_fits(const std::string& length) {
    if (length.empty()) return true;
    std::size_t bytes = 0;
    const auto [end, error] = std::from_chars(length.data(), length.data() + length.size(), bytes);
    return error == std::errc{} && end == length.data() + length.size() && bytes <= longest_body;
}

}  // namespace

bool same(std::string_view token, std::string_view given) {
    unsigned different = token.size() != given.size() || token.empty() ? 1 : 0;
    for (std::size_t i = 0; i < given.size(); ++i) {
        const char wanted = token.empty() ? '\0' : token[i % token.size()];
        different |= static_cast<unsigned char>(wanted) ^ static_cast<unsigned char>(given[i]);
    }
    return different == 0;
}

Verdict admit(const Head& head, const Rules& rules) {
    const bool reads = head.method == "GET" || head.method == "HEAD";
    if (!one_of(rules.hosts, head.host)) return {421, "this is not the name of this station"};
    if (!reads && head.method != "POST") return {405, "GET or POST"};
    if (!own_origin(head, rules)) return {403, "another page may not ask this station"};
    if (!body_fits(head.content_length)) return {413, "the request is too long"};
    const bool data = head.path.starts_with("/api") || head.path == "/metrics";
    const bool needs_token = !reads || (rules.token_to_read && data);
    if (needs_token && !has_token(head, rules)) return {401, "the token is missing or wrong; see tripline page"};
    if (!reads && !head.content_type.starts_with("application/json")) return {415, "a request is application/json"};
    return {};
}

}  // namespace tripline::web
