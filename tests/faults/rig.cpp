#include "tests/faults/rig.h"

#include <fcntl.h>
#include <gtest/gtest.h>
#include <poll.h>
#include <sys/mman.h>

#include <fstream>
#include <new>
#include <stdexcept>

namespace tripline::faults {

Folder::Folder() {
    std::string name = std::filesystem::temp_directory_path() / "tripline-fault-XXXXXX";
    if (!::mkdtemp(name.data())) throw std::runtime_error("no temporary folder");
    path = name;
    std::filesystem::create_directory(path / "alive");
}

Folder::~Folder() {
    std::error_code ignored;
    std::filesystem::remove_all(path, ignored);
}

ShimFile::ShimFile(const std::filesystem::path& folder) : path_(folder / "shim") {
    std::ofstream(path_) << std::string(sizeof(Shim), '\0');
    const lines::Descriptor file(::open(path_.c_str(), O_RDWR | O_CLOEXEC));
    void* memory = ::mmap(nullptr, sizeof(Shim), PROT_READ | PROT_WRITE, MAP_SHARED, file.get(), 0);
    if (memory == MAP_FAILED) throw std::runtime_error("no shared memory");
    shim_ = new (memory) Shim;
}

ShimFile::~ShimFile() { ::munmap(shim_, sizeof *shim_); }

std::vector<std::string> ShimFile::environment() const {
    return {"LD_PRELOAD=" FAULT_SHIM, "TRIPLINE_SHIM=" + path_};
}

pid_t backstop_of(pid_t guard) {
    const std::string id = std::to_string(guard);
    std::ifstream children("/proc/" + id + "/task/" + id + "/children");
    pid_t child = -1;
    return children >> child ? child : -1;
}

Station::Station() {
    static std::mt19937 random(std::random_device{}());
    daemon = std::make_unique<Child>(
        std::vector<std::string>{FAULT_KEYER, GUARD_PROGRAM, folder.path.string()},
        shim.environment());
    const std::string started = daemon->hear("guard ");
    if (started.empty() || daemon->hear("sound").empty()) throw std::runtime_error("no guard");
    guard = std::stoi(started.substr(6));
    daemon->say("key");
    if (daemon->hear("keyed").empty()) throw std::runtime_error("not keyed");
    ::poll(nullptr, 0, 30 + static_cast<int>(random() % 60));
}

void Station::measure(const std::string& row, Duration bound, Instant fault) const {
    const auto opened = lines.wait("ptt", false, fault);
    ASSERT_TRUE(opened) << row << ": the key stayed closed";
    table().add(row, bound, fault, *opened);
    // Where there is a guard left, the rest follows in order.
    const auto antenna = lines.wait("antenna", false, *opened);
    const auto unmuted = lines.wait("mute", false, *opened);
    ASSERT_TRUE(antenna && unmuted) << row;
}

}  // namespace tripline::faults
