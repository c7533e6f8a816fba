// The last so many of a growing series, by number.
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <utility>
#include <vector>

namespace tripline::control {

/// Its memory is taken at once: a station that runs for days does not grow by it. For one
/// thread, or behind a lock.
template <class T>
class Kept {
public:
    explicit Kept(std::size_t most) : values_(most) {}

    void push(T value) {
        at(count_) = std::move(value);
        ++count_;
    }
    /// How many there have been; the next one's number.
    std::uint64_t count() const { return count_; }
    /// Number of the oldest one that is left.
    std::uint64_t first() const { return count_ - std::min<std::uint64_t>(count_, values_.size()); }

    /// At most `most` from number `cursor` on; those forgotten are left out. Moves the cursor
    /// behind the last one given.
    std::vector<T> since(std::uint64_t& cursor, std::size_t most) const {
        cursor = std::clamp(cursor, first(), count_);
        std::vector<T> found;
        found.reserve(std::min<std::uint64_t>(most, count_ - cursor));
        for (; cursor < count_ && found.size() < most; ++cursor) found.push_back(at(cursor));
        return found;
    }
    /// The last ones.
    std::vector<T> last(std::size_t most) const {
        std::uint64_t cursor = count_ - std::min<std::uint64_t>(most, count_ - first());
        return since(cursor, most);
    }
    /// Null: forgotten, or not there yet.
    T* find(std::uint64_t number) { return number < first() || number >= count_ ? nullptr : &at(number); }

private:
    T& at(std::uint64_t number) { return values_[number % values_.size()]; }
    const T& at(std::uint64_t number) const { return values_[number % values_.size()]; }

    std::uint64_t count_ = 0;
    std::vector<T> values_;
};

}  // namespace tripline::control
