// Bytes as they come, as lines of bounded length.
#pragma once

#include "daemon/control/limits.h"

#include <optional>
#include <string>
#include <string_view>

namespace tripline::control {

class LineReader {
public:
    /// Takes bytes; call next() until it is empty before the next ones.
    void push(std::string_view bytes) { waiting_ += bytes; }

    /// The next whole line, without its end.
    std::optional<std::string> next() {
        const auto end = waiting_.find('\n', begin_);
        if (end == std::string::npos) {
            waiting_.erase(0, begin_);
            begin_ = 0;
            too_long_ = too_long_ || waiting_.size() > longest_line;
            return std::nullopt;
        }
        too_long_ = too_long_ || end - begin_ > longest_line;
        if (too_long_) return std::nullopt;
        std::string line = waiting_.substr(begin_, end - begin_);
        begin_ = end + 1;
        return line;
    }

    /// Bytes that next() has not given out yet.
    std::size_t unread() const { return waiting_.size() - begin_; }
    /// The first whole line of those for which `is` holds; it stays where it is.
    template <typename Is> std::optional<std::string> ahead(Is is) const {
        std::size_t begin = begin_;
        for (auto end = waiting_.find('\n', begin); end != std::string::npos; end = waiting_.find('\n', begin)) {
            std::string line = waiting_.substr(begin, end - begin);
            if (is(line)) return line;
            begin = end + 1;
        }
        return std::nullopt;
    }

    /// A line was over the limit. There is no way on.
    bool too_long() const { return too_long_; }

private:
    std::string waiting_;
    std::size_t begin_ = 0;
    bool too_long_ = false;
};

}  // namespace tripline::control
