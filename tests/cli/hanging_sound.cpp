// Preloaded: a sound library that never starts.
#include <unistd.h>

extern "C" int Pa_Initialize() {
    for (;;) ::pause();
}
