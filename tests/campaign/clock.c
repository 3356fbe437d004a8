/* Shows a process another time: the real one and the seconds in the file CAMPAIGN_CLOCK, which may
   change at any moment. How long something takes, and every sleep, stays as it is. */

#define _GNU_SOURCE
#include <fcntl.h>
#include <stdint.h>
#include <stdlib.h>
#include <sys/mman.h>
#include <sys/syscall.h>
#include <sys/time.h>
#include <time.h>
#include <unistd.h>

static const volatile int64_t *shift;

__attribute__((constructor)) static void open_clock(void) {
    const char *name = getenv("CAMPAIGN_CLOCK");
    int file = name ? open(name, O_RDONLY | O_CLOEXEC) : -1;
    if (file < 0) return;
    void *there = mmap(NULL, sizeof *shift, PROT_READ, MAP_SHARED, file, 0);
    if (there != MAP_FAILED) shift = there;
    close(file);
}

int clock_gettime(clockid_t clock, struct timespec *now) {
    int wrong = syscall(SYS_clock_gettime, clock, now);
    if (!wrong && shift && (clock == CLOCK_REALTIME || clock == CLOCK_REALTIME_COARSE))
        now->tv_sec += *shift;
    return wrong;
}

int gettimeofday(struct timeval *now, void *zone) {
    struct timespec exact;
    (void)zone;
    clock_gettime(CLOCK_REALTIME, &exact);
    now->tv_sec = exact.tv_sec;
    now->tv_usec = exact.tv_nsec / 1000;
    return 0;
}

time_t time(time_t *kept) {
    struct timespec exact;
    clock_gettime(CLOCK_REALTIME, &exact);
    if (kept) *kept = exact.tv_sec;
    return exact.tv_sec;
}
