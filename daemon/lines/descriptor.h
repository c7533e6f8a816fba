// A file descriptor that closes itself.
#pragma once

#include <unistd.h>

#include <utility>

namespace tripline::lines {

class Descriptor {
public:
    explicit Descriptor(int descriptor = -1) noexcept : value_(descriptor) {}
    Descriptor(Descriptor&& other) noexcept : value_(std::exchange(other.value_, -1)) {}
    Descriptor& operator=(Descriptor&& other) noexcept {
        std::swap(value_, other.value_);
        return *this;
    }
    ~Descriptor() {
        if (value_ >= 0) ::close(value_);
    }
    int get() const noexcept { return value_; }
    explicit operator bool() const noexcept { return value_ >= 0; }

private:
    int value_;
};

}  // namespace tripline::lines
