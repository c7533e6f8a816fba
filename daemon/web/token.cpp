#include "daemon/web/token.h"

#include "config/file_text.h"

#include <sys/random.h>
#include <sys/stat.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <stdexcept>
#include <string_view>
#include <system_error>

namespace tripline::web {
namespace {

constexpr std::string_view letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";
constexpr std::size_t shortest = 16;
constexpr std::size_t largest_file = 4096;   // bytes, of which the first line counts

}  // namespace

std::string make_token() {
    std::array<unsigned char, 32> random{};  // six bits of each are used
    if (::getrandom(random.data(), random.size(), 0) != static_cast<ssize_t>(random.size())) {
        throw std::system_error(errno, std::generic_category(), "getrandom");
    }
    std::string token;
    for (const unsigned char byte : random) token += letters[byte % letters.size()];
    return token;
}

std::string read_token(const std::string& file) {
    struct stat there{};
    if (::stat(file.c_str(), &there) == 0 && (there.st_mode & S_IROTH) != 0) {
        throw std::runtime_error(file + ": everybody may read it: chmod o= it");
    }
    const auto text = config::read_file_text(file, largest_file);
    if (!text.error.empty()) throw std::runtime_error(file + ": " + text.error);
    const std::string token = text.content.substr(0, text.content.find('\n'));
    const bool plain = std::ranges::all_of(token, [](char c) { return letters.find(c) != letters.npos; });
    if (token.size() < shortest || !plain) {
        throw std::runtime_error(file + ": a token has at least 16 letters, digits, - and _");
    }
    return token;
}

}  // namespace tripline::web
