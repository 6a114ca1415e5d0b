/* A disk on which the n-th operation fails, comes up short or is the last before the power goes: to be preloaded.

   FAULTY_PATH   only files whose path holds this count
   FAULTY_NTH    which operation, from 1
   FAULTY_HOW    ENOSPC, EIO, EROFS, EACCES, EDQUOT: it fails so; short: half is written; kill: the process dies before
                 it, kill-half: in the middle of it
   FAULTY_LASTS  if set, all later ones fail likewise
   FAULTY_CALLS  which count, such as "write,rename"; all where it is not set
   FAULTY_LOG    a file that gets a line once it has happened, and at the end how many operations there were, and how many
                 of them were renames */
#define _GNU_SOURCE
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdarg.h>
#include <stdatomic.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/types.h>
#include <sys/uio.h>
#include <unistd.h>

static atomic_long calls;
static atomic_long renames;

static void tell(const char *what, const char *of);

__attribute__((destructor)) static void tell_count(void)
{
    char numbers[64];
    snprintf(numbers, sizeof numbers, "%ld %ld", atomic_load(&calls), atomic_load(&renames));
    if (getenv("FAULTY_PATH")) tell("count", numbers);
}

static long number_of(const char *name)
{
    const char *value = getenv(name);
    return value ? atol(value) : 0;
}

static int error_number(const char *how)
{
    static const struct {
        const char *name;
        int number;
    } known[] = {{"ENOSPC", ENOSPC}, {"EIO", EIO}, {"EROFS", EROFS}, {"EACCES", EACCES}, {"EDQUOT", EDQUOT}};
    for (size_t k = 0; k < sizeof known / sizeof *known; ++k)
        if (strcmp(how, known[k].name) == 0) return known[k].number;
    return 0;
}

static void tell(const char *call, const char *path)
{
    const char *log = getenv("FAULTY_LOG");
    if (!log) return;
    static ssize_t (*plain_write)(int, const void *, size_t);
    static int (*plain_open)(const char *, int, ...);
    if (!plain_write) plain_write = (ssize_t(*)(int, const void *, size_t))dlsym(RTLD_NEXT, "write");
    if (!plain_open) plain_open = (int (*)(const char *, int, ...))dlsym(RTLD_NEXT, "open");
    const int file = plain_open(log, O_WRONLY | O_CREAT | O_APPEND, 0666);
    char line[4200];
    const int length = snprintf(line, sizeof line, "%s %s\n", call, path);
    if (file >= 0 && plain_write(file, line, (size_t)length) < 0) return;
    if (file >= 0) close(file);
}

enum verdict { go_on, fail, half, die_halfway };

/* What becomes of this call. Sets errno where it fails. */
static enum verdict judge(const char *call, const char *path)
{
    const char *part = getenv("FAULTY_PATH");
    const char *how = getenv("FAULTY_HOW");
    const char *which = getenv("FAULTY_CALLS");
    if (!part || !how || !strstr(path, part)) return go_on;
    if (which && !strstr(which, call)) return go_on;
    const long nth = number_of("FAULTY_NTH");
    const long now = atomic_fetch_add(&calls, 1) + 1;
    if (strcmp(call, "rename") == 0) atomic_fetch_add(&renames, 1);
    if (getenv("FAULTY_LASTS") ? now < nth : now != nth) return go_on;
    if (now == nth) tell(call, path);
    if (strcmp(how, "kill") == 0) kill(getpid(), SIGKILL);
    if (strcmp(how, "kill-half") == 0) return die_halfway;
    if (strcmp(how, "short") == 0) return half;
    errno = error_number(how);
    return fail;
}

static enum verdict judge_file(const char *call, int file)
{
    char name[64], path[4096];
    snprintf(name, sizeof name, "/proc/self/fd/%d", file);
    const ssize_t length = readlink(name, path, sizeof path - 1);
    if (length < 0) return go_on;
    path[length] = '\0';
    return judge(call, path);
}

#define PLAIN(type, name, ...)                                                                                         \
    static type (*plain)(__VA_ARGS__);                                                                                 \
    if (!plain) plain = (type(*)(__VA_ARGS__))dlsym(RTLD_NEXT, name)

static size_t part_of(enum verdict v, size_t size)
{
    return v == go_on || size < 2 ? size : size / 2;
}

static void die_if(enum verdict v)
{
    if (v == die_halfway) kill(getpid(), SIGKILL);
}

ssize_t write(int file, const void *bytes, size_t size)
{
    PLAIN(ssize_t, "write", int, const void *, size_t);
    const enum verdict v = judge_file("write", file);
    if (v == fail) return -1;
    const ssize_t written = plain(file, bytes, part_of(v, size));
    die_if(v);
    return written;
}

ssize_t writev(int file, const struct iovec *pieces, int count)
{
    PLAIN(ssize_t, "writev", int, const struct iovec *, int);
    const enum verdict v = judge_file("write", file);
    if (v == fail) return -1;
    const ssize_t written = plain(file, pieces, v == go_on || count < 2 ? count : 1);
    die_if(v);
    return written;
}

#define PWRITE(name)                                                                                                   \
    ssize_t name(int file, const void *bytes, size_t size, off_t at)                                                   \
    {                                                                                                                  \
        PLAIN(ssize_t, #name, int, const void *, size_t, off_t);                                                       \
        const enum verdict v = judge_file("write", file);                                                              \
        if (v == fail) return -1;                                                                                      \
        const ssize_t written = plain(file, bytes, part_of(v, size), at);                                              \
        die_if(v);                                                                                                     \
        return written;                                                                                                \
    }
PWRITE(pwrite)
PWRITE(pwrite64)

#define ON_FILE(name)                                                                                                  \
    int name(int file)                                                                                                 \
    {                                                                                                                  \
        PLAIN(int, #name, int);                                                                                        \
        const enum verdict v = judge_file("fsync", file);                                                              \
        if (v == fail) return -1;                                                                                      \
        die_if(v);                                                                                                     \
        return plain(file);                                                                                            \
    }
ON_FILE(fsync)
ON_FILE(fdatasync)

#define FTRUNCATE(name)                                                                                                \
    int name(int file, off_t size)                                                                                     \
    {                                                                                                                  \
        PLAIN(int, #name, int, off_t);                                                                                 \
        const enum verdict v = judge_file("truncate", file);                                                           \
        if (v == fail) return -1;                                                                                      \
        die_if(v);                                                                                                     \
        return plain(file, size);                                                                                      \
    }
FTRUNCATE(ftruncate)
FTRUNCATE(ftruncate64)

int rename(const char *from, const char *to)
{
    PLAIN(int, "rename", const char *, const char *);
    const enum verdict v = judge("rename", to);
    if (v == fail) return -1;
    die_if(v);
    return plain(from, to);
}

int mkdir(const char *path, mode_t mode)
{
    PLAIN(int, "mkdir", const char *, mode_t);
    const enum verdict v = judge("mkdir", path);
    if (v == fail) return -1;
    die_if(v);
    return plain(path, mode);
}

#define OPEN(name)                                                                                                     \
    int name(const char *path, int flags, ...)                                                                         \
    {                                                                                                                  \
        PLAIN(int, #name, const char *, int, ...);                                                                     \
        mode_t mode = 0;                                                                                               \
        if (flags & (O_CREAT | __O_TMPFILE)) {                                                                         \
            va_list more;                                                                                              \
            va_start(more, flags);                                                                                     \
            mode = va_arg(more, mode_t);                                                                               \
            va_end(more);                                                                                              \
        }                                                                                                              \
        if (flags & (O_CREAT | O_WRONLY | O_RDWR)) {                                                                   \
            const enum verdict v = judge("open", path);                                                                \
            if (v == fail) return -1;                                                                                  \
            die_if(v);                                                                                                 \
        }                                                                                                              \
        return plain(path, flags, mode);                                                                               \
    }
OPEN(open)
OPEN(open64)

#define FOPEN(name)                                                                                                    \
    FILE *name(const char *path, const char *mode)                                                                     \
    {                                                                                                                  \
        PLAIN(FILE *, #name, const char *, const char *);                                                              \
        if (strpbrk(mode, "wa+")) {                                                                                    \
            const enum verdict v = judge("open", path);                                                                \
            if (v == fail) return NULL;                                                                                \
            die_if(v);                                                                                                 \
        }                                                                                                              \
        return plain(path, mode);                                                                                      \
    }
FOPEN(fopen)
FOPEN(fopen64)
