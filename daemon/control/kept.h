// The last so many of a growing series, by number.
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <deque>
#include <vector>

namespace tripline::control {

/// For one thread, or behind a lock.
template <class T>
class Kept {
public:
    explicit Kept(std::size_t most) : most_(most) {}

    void push(T value) {
        if (values_.size() == most_) values_.pop_front();
        values_.push_back(std::move(value));
        ++count_;
    }
    /// How many there have been; the next one's number.
    std::uint64_t count() const { return count_; }
    /// Number of the oldest one that is left.
    std::uint64_t first() const { return count_ - values_.size(); }

    /// At most `most` from number `cursor` on; those forgotten are left out. Moves the cursor
    /// behind the last one given.
    std::vector<T> since(std::uint64_t& cursor, std::size_t most) const {
        cursor = std::clamp(cursor, first(), count_);
        const auto begin = values_.begin() + static_cast<std::ptrdiff_t>(cursor - first());
        const auto length = std::min<std::uint64_t>(most, count_ - cursor);
        cursor += length;
        return {begin, begin + static_cast<std::ptrdiff_t>(length)};
    }
    /// The last ones.
    std::vector<T> last(std::size_t most) const {
        std::uint64_t cursor = count_ - std::min(most, values_.size());
        return since(cursor, most);
    }
    /// Null: forgotten, or not there yet.
    T* find(std::uint64_t number) {
        if (number < first() || number >= count_) return nullptr;
        return &values_[static_cast<std::size_t>(number - first())];
    }

private:
    std::size_t most_;
    std::uint64_t count_ = 0;
    std::deque<T> values_;
};

}  // namespace tripline::control
