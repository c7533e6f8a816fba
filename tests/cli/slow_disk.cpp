// Preloaded: a disk that takes three seconds for each write to a capture of the black box. Not in the guard, which may
// not ask for a descriptor's name.
#include <sys/syscall.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <string>

extern "C" ssize_t write(int file, const void* data, std::size_t size) {
    static const bool applies = std::strcmp(program_invocation_short_name, "tripline") == 0;
    char name[512] = "";
    if (applies && ::readlink(("/proc/self/fd/" + std::to_string(file)).c_str(), name, sizeof name - 1) > 0 && std::strstr(name, "/captures/") != nullptr) ::sleep(3);
    return ::syscall(SYS_write, file, data, size);
}
