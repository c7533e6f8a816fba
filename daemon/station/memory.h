// What an engine remembers, as bytes.
#pragma once

#include "dsp/pair.h"

#include <array>
#include <cstddef>
#include <cstring>
#include <span>
#include <type_traits>
#include <vector>

namespace tripline::station {

template <typename T> inline constexpr bool is_figure = std::is_arithmetic_v<T> || std::is_same_v<T, dsp::Pair>;
template <typename T, std::size_t n> inline constexpr bool is_figure<std::array<T, n>> = std::is_arithmetic_v<T>;

/// A visitor that notes what it is shown, in this machine's own order of bytes.
class MemoryWriter {
public:
    explicit MemoryWriter(std::vector<std::byte>& out) : out_(out) {}

    template <typename T> void operator()(const T& figure) {
        static_assert(is_figure<T> || std::is_enum_v<T>);
        const auto bytes = std::as_bytes(std::span(&figure, 1));
        out_.insert(out_.end(), bytes.begin(), bytes.end());
    }
    void operator()(const std::vector<float>& figures) {
        const auto bytes = std::as_bytes(std::span(figures));
        out_.insert(out_.end(), bytes.begin(), bytes.end());
    }
    template <typename T, typename Limit> void operator()(const T& figure, Limit) { (*this)(figure); }

private:
    std::vector<std::byte>& out_;
};

/// What `engine` remembers, as its memory() shows it.
template <typename Engine> std::vector<std::byte> memory_of(Engine& engine) {
    std::vector<std::byte> bytes;
    MemoryWriter writer(bytes);
    engine.memory(writer);
    return bytes;
}

/// A visitor that sets what it is shown to what was noted of the same kind of object. Nothing is
/// set that is out of its range, or beyond the end.
class MemoryReader {
public:
    explicit MemoryReader(std::span<const std::byte> in) : in_(in) {}

    template <typename T> void operator()(T& figure) {
        static_assert(is_figure<T> && !std::is_same_v<T, bool>);
        const auto bytes = take(sizeof(T));
        if (!bytes.empty()) std::memcpy(&figure, bytes.data(), sizeof(T));
    }
    void operator()(bool& truth) {
        const auto bytes = take(1);
        if (bytes.empty()) return;
        truth = bytes.front() != std::byte{0};
    }
    /// As many as there are.
    void operator()(std::vector<float>& figures) {
        const auto bytes = take(figures.size() * sizeof(float));
        if (!bytes.empty()) std::memcpy(figures.data(), bytes.data(), bytes.size());
    }
    /// A place less than the limit, or an enumerator up to it.
    template <typename T, typename Limit> void operator()(T& figure, Limit limit) {
        const auto bytes = take(sizeof(T));
        if (bytes.empty()) return;
        if constexpr (std::is_enum_v<T>) {
            std::underlying_type_t<T> value{};
            std::memcpy(&value, bytes.data(), sizeof(T));
            good_ = good_ && value <= static_cast<std::underlying_type_t<T>>(limit);
            if (good_) figure = static_cast<T>(value);
        } else {
            T value{};
            std::memcpy(&value, bytes.data(), sizeof(T));
            good_ = good_ && value >= T{} && value < static_cast<T>(limit);
            if (good_) figure = value;
        }
    }

    /// All of it was read, and all was in range.
    bool good() const { return good_ && in_.empty(); }

private:
    std::span<const std::byte> take(std::size_t count) {
        good_ = good_ && in_.size() >= count;
        if (!good_) return {};
        const auto taken = in_.first(count);
        in_ = in_.subspan(count);
        return taken;
    }

    std::span<const std::byte> in_;
    bool good_ = true;
};

}  // namespace tripline::station
