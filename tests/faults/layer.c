/* A disk that fails, laid under a program by LD_PRELOAD: for files below one folder it keeps what a power
 * cut would undo, cuts the power at the n-th operation, or has the n-th operation refused.
 *
 * LAYER_UNDER    the folder, absolute
 * LAYER_CONTROL  a file of one `struct control`, shared by all processes under the layer and by who armed it
 * LAYER_LOG      where what would be undone is kept (read by layer.py)
 * LAYER_LIMBO    a folder on the same disk where unlinked files stay until they are surely gone
 *
 * A process is under the layer once it has called layer_on(). Files ending in -shm are left alone: SQLite
 * keeps them in shared memory and makes them anew after a cut (https://www.sqlite.org/walformat.html, 2.).
 */
#define _GNU_SOURCE
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <pthread.h>
#include <signal.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/stat.h>
#include <sys/uio.h>
#include <unistd.h>

enum { WRITE = 1, SYNC = 2, TRUNCATE = 4, NAME = 8, READ = 16 }; /* classes of operations */
enum { L_WRITE = 1, L_TRUNCATE, L_SYNC, L_FAILED_SYNC, L_CREATE, L_LINK, L_RENAME, L_UNLINK, L_MKDIR, L_RMDIR };

struct control {
    uint64_t operations;   /* that would change the disk, so far */
    uint64_t cut_at;       /* the number of the one at which the power goes; 0: never */
    uint64_t dead;         /* whether it has gone */
    uint64_t failable;     /* operations of the classes below, so far */
    uint64_t fail_at;      /* the number of the first that is refused; 0: none */
    uint64_t fail_classes;
    uint64_t fail_errno;
    uint64_t fail_times;   /* how many are refused from there on */
    uint64_t fail_short;   /* whether half of a refused write lands first */
    uint64_t failed;       /* how many were refused */
};

struct record {
    uint32_t kind, data, first, second; /* lengths of what follows: bytes, two names */
    uint64_t ino, other, offset, length, size;
};

static struct control *control;
static const char *under, *limbo;
static size_t under_length;
static int lock_fd = -1, log_fd = -1, active;
static uint64_t limbo_count;
static pthread_mutex_t mutex = PTHREAD_MUTEX_INITIALIZER;

#define REAL(result, name, ...) \
    static result (*real_##name)(__VA_ARGS__); \
    if (!real_##name) *(void **)&real_##name = dlsym(RTLD_NEXT, #name)

void layer_on(void) {
    under = getenv("LAYER_UNDER");
    limbo = getenv("LAYER_LIMBO");
    under_length = strlen(under);
    lock_fd = open(getenv("LAYER_CONTROL"), O_RDWR | O_CLOEXEC);
    log_fd = open(getenv("LAYER_LOG"), O_WRONLY | O_APPEND | O_CLOEXEC);
    control = mmap(NULL, sizeof *control, PROT_READ | PROT_WRITE, MAP_SHARED, lock_fd, 0);
    if (lock_fd < 0 || log_fd < 0 || control == MAP_FAILED) abort();
    active = 1;
}

/* ---- which files ---- */

static int below(const char *path) {
    size_t length = strlen(path);
    if (strncmp(path, under, under_length) || (path[under_length] && path[under_length] != '/')) return 0;
    return length < 4 || strcmp(path + length - 4, "-shm");
}

static int fd_below(int fd) {
    char link[64], path[PATH_MAX];
    if (!active) return 0;
    snprintf(link, sizeof link, "/proc/self/fd/%d", fd);
    ssize_t length = readlink(link, path, sizeof path - 1);
    if (length < 0) return 0;
    path[length] = 0;
    return below(path);
}

static int path_below(int dir, const char *path, char *whole) {
    char link[64];
    if (!active || !path) return 0;
    if (path[0] == '/') {
        snprintf(whole, PATH_MAX, "%s", path);
    } else {
        if (dir == AT_FDCWD) snprintf(link, sizeof link, "/proc/self/cwd");
        else snprintf(link, sizeof link, "/proc/self/fd/%d", dir);
        ssize_t length = readlink(link, whole, PATH_MAX - 1);
        if (length < 0) return 0;
        snprintf(whole + length, PATH_MAX - length, "/%s", path);
    }
    return below(whole);
}

static uint64_t ino_of(const char *path) {
    struct stat found;
    return lstat(path, &found) ? 0 : found.st_ino;
}

static uint64_t parent_of(const char *path) {
    char folder[PATH_MAX];
    snprintf(folder, sizeof folder, "%s", path);
    char *slash = strrchr(folder, '/');
    if (slash) *slash = 0;
    return ino_of(folder);
}

/* ---- one operation at a time, over all processes ---- */

static void lock(void) {
    struct flock whole = {.l_type = F_WRLCK, .l_whence = SEEK_SET};
    pthread_mutex_lock(&mutex);
    while (fcntl(lock_fd, F_SETLKW, &whole) && errno == EINTR) {}
}

static void unlock(void) {
    struct flock whole = {.l_type = F_UNLCK, .l_whence = SEEK_SET};
    int saved = errno;
    fcntl(lock_fd, F_SETLK, &whole);
    pthread_mutex_unlock(&mutex);
    errno = saved;
}

/* Counts an operation; ends the process where the power goes; the error to refuse it with, or 0. */
static int begin(int class) {
    if (control->dead) kill(getpid(), SIGKILL);
    if (class != READ && ++control->operations == control->cut_at) {
        control->dead = 1;
        kill(getpid(), SIGKILL);
    }
    if (!(class & control->fail_classes)) return 0;
    uint64_t number = ++control->failable;
    if (!control->fail_at || number < control->fail_at) return 0;
    if (number - control->fail_at >= control->fail_times) return 0;
    control->failed++;
    return (int)control->fail_errno;
}

static void keep(struct record head, const void *data, const char *first, const char *second) {
    head.first = first ? strlen(first) : 0;
    head.second = second ? strlen(second) : 0;
    struct iovec parts[] = {{&head, sizeof head}, {(void *)data, head.data},
                            {(void *)first, head.first}, {(void *)second, head.second}};
    REAL(ssize_t, writev, int, const struct iovec *, int);
    if (real_writev(log_fd, parts, 4) < 0) abort();
}

/* ---- bytes ---- */

static ssize_t old_bytes(int fd, char *into, size_t length, off_t offset) {
    REAL(ssize_t, pread64, int, void *, size_t, off64_t);
    ssize_t got = real_pread64(fd, into, length, offset);
    if (got >= 0) return got;
    char link[64];
    snprintf(link, sizeof link, "/proc/self/fd/%d", fd);
    REAL(int, open64, const char *, int, ...);
    int again = real_open64(link, O_RDONLY | O_CLOEXEC);
    got = again < 0 ? 0 : real_pread64(again, into, length, offset);
    if (again >= 0) close(again);
    return got < 0 ? 0 : got;
}

/* What stood in a stretch of a file before it is written or cut off. */
static void keep_bytes(int kind, int fd, off_t offset, size_t length, size_t kept) {
    struct stat now;
    if (fstat(fd, &now) || !S_ISREG(now.st_mode)) return;
    char *old = malloc(kept ? kept : 1);
    ssize_t got = old_bytes(fd, old, kept, offset);
    keep((struct record){.kind = kind, .data = got, .ino = now.st_ino, .offset = offset, .length = length,
                         .size = now.st_size}, old, NULL, NULL);
    free(old);
}

static off_t place(int fd) {
    struct stat now;
    if (fcntl(fd, F_GETFL) & O_APPEND) return fstat(fd, &now) ? 0 : now.st_size;
    return lseek(fd, 0, SEEK_CUR);
}

#define WRITTEN(call_whole, call_half, offset, count) \
    lock(); \
    int refused = begin(WRITE); \
    size_t half = control->fail_short ? ((count) / 2) : 0; \
    ssize_t done = -1; \
    if (!refused || half) keep_bytes(L_WRITE, fd, offset, count, count); \
    if (!refused) done = call_whole; \
    else if (half) done = call_half; \
    else errno = refused; \
    unlock(); \
    return done

ssize_t pwrite64(int fd, const void *data, size_t count, off64_t offset) {
    REAL(ssize_t, pwrite64, int, const void *, size_t, off64_t);
    if (!fd_below(fd)) return real_pwrite64(fd, data, count, offset);
    WRITTEN(real_pwrite64(fd, data, count, offset), real_pwrite64(fd, data, half, offset), offset, count);
}
ssize_t pwrite(int fd, const void *data, size_t count, off_t offset) { return pwrite64(fd, data, count, offset); }

ssize_t write(int fd, const void *data, size_t count) {
    REAL(ssize_t, write, int, const void *, size_t);
    if (!fd_below(fd)) return real_write(fd, data, count);
    WRITTEN(real_write(fd, data, count), real_write(fd, data, half), place(fd), count);
}

/* Ways of copying that go round the calls above are refused; who copies then writes. */
ssize_t writev(int fd, const struct iovec *parts, int count) {
    REAL(ssize_t, writev, int, const struct iovec *, int);
    if (!fd_below(fd)) return real_writev(fd, parts, count);
    errno = EINVAL;
    return -1;
}
ssize_t sendfile64(int out, int in, off64_t *offset, size_t count) {
    REAL(ssize_t, sendfile64, int, int, off64_t *, size_t);
    if (!fd_below(out)) return real_sendfile64(out, in, offset, count);
    errno = ENOTSOCK;
    return -1;
}
ssize_t copy_file_range(int in, off64_t *from, int out, off64_t *to, size_t count, unsigned flags) {
    REAL(ssize_t, copy_file_range, int, off64_t *, int, off64_t *, size_t, unsigned);
    if (!fd_below(out)) return real_copy_file_range(in, from, out, to, count, flags);
    errno = EOPNOTSUPP;
    return -1;
}
int posix_fallocate64(int fd, off64_t offset, off64_t length) {
    REAL(int, posix_fallocate64, int, off64_t, off64_t);
    return fd_below(fd) ? EOPNOTSUPP : real_posix_fallocate64(fd, offset, length);
}

int ftruncate64(int fd, off64_t length) {
    REAL(int, ftruncate64, int, off64_t);
    if (!fd_below(fd)) return real_ftruncate64(fd, length);
    struct stat now;
    lock();
    int refused = begin(TRUNCATE), done = -1;
    if (refused) {
        errno = refused;
    } else {
        size_t lost = fstat(fd, &now) || now.st_size <= length ? 0 : now.st_size - length;
        keep_bytes(L_TRUNCATE, fd, length, lost, lost);
        done = real_ftruncate64(fd, length);
    }
    unlock();
    return done;
}
int ftruncate(int fd, off_t length) { return ftruncate64(fd, length); }

static int synced(int fd, int (*real)(int)) {
    struct stat now;
    lock();
    int refused = begin(SYNC), done = -1;
    if (!fstat(fd, &now)) {
        if (!refused) done = real(fd);
        keep((struct record){.kind = done ? L_FAILED_SYNC : L_SYNC, .ino = now.st_ino}, NULL, NULL, NULL);
        if (refused) errno = refused;
    }
    unlock();
    return done;
}
int fsync(int fd) {
    REAL(int, fsync, int);
    return fd_below(fd) ? synced(fd, real_fsync) : real_fsync(fd);
}
int fdatasync(int fd) {
    REAL(int, fdatasync, int);
    return fd_below(fd) ? synced(fd, real_fdatasync) : real_fdatasync(fd);
}

#define READING(call) \
    if (!active || !(control->fail_classes & READ) || !fd_below(fd)) return call; \
    lock(); \
    int refused = begin(READ); \
    unlock(); \
    if (!refused) return call; \
    errno = refused; \
    return -1

ssize_t pread64(int fd, void *into, size_t count, off64_t offset) {
    REAL(ssize_t, pread64, int, void *, size_t, off64_t);
    READING(real_pread64(fd, into, count, offset));
}
ssize_t read(int fd, void *into, size_t count) {
    REAL(ssize_t, read, int, void *, size_t);
    READING(real_read(fd, into, count));
}

/* ---- names ---- */

/* Another name in limbo for what a name is about to lose. */
static void to_limbo(const char *path, char *kept) {
    snprintf(kept, PATH_MAX, "%s/%d-%lu", limbo, getpid(), (unsigned long)++limbo_count);
    REAL(int, link, const char *, const char *);
    if (real_link(path, kept)) kept[0] = 0;
}

static void keep_name(int kind, const char *first, const char *second, const char *at) {
    keep((struct record){.kind = kind, .ino = parent_of(at)}, NULL, first, second);
}

static int opened(int dir, const char *path, int flags, mode_t mode) {
    char whole[PATH_MAX];
    REAL(int, openat64, int, const char *, int, ...);
    int changes = (flags & (O_CREAT | O_TRUNC)) && !(flags & O_PATH);
    if (!changes || !path_below(dir, path, whole)) return real_openat64(dir, path, flags, mode);
    struct stat now;
    int there = !stat(whole, &now);
    if (there && !((flags & O_TRUNC) && now.st_size)) return real_openat64(dir, path, flags, mode);
    lock();
    int refused = begin(NAME), fd = -1;
    if (refused) {
        errno = refused;
    } else {
        if (!there) keep_name(L_CREATE, whole, NULL, whole);
        int old = there ? real_openat64(dir, path, O_RDONLY | O_CLOEXEC, 0) : -1;
        if (old >= 0) keep_bytes(L_TRUNCATE, old, 0, now.st_size, now.st_size);
        if (old >= 0) close(old);
        fd = real_openat64(dir, path, flags, mode);
    }
    unlock();
    return fd;
}

#define MODE(flags) \
    mode_t mode = 0; \
    if ((flags) & (O_CREAT | __O_TMPFILE)) { \
        va_list more; \
        va_start(more, flags); \
        mode = va_arg(more, mode_t); \
        va_end(more); \
    }

int open64(const char *path, int flags, ...) { MODE(flags) return opened(AT_FDCWD, path, flags, mode); }
int open(const char *path, int flags, ...) { MODE(flags) return opened(AT_FDCWD, path, flags, mode); }
int openat64(int dir, const char *path, int flags, ...) { MODE(flags) return opened(dir, path, flags, mode); }
int openat(int dir, const char *path, int flags, ...) { MODE(flags) return opened(dir, path, flags, mode); }

#define NAMED(record_it, call) \
    lock(); \
    int refused = begin(NAME), done = -1; \
    if (refused) errno = refused; \
    else { record_it; done = call; } \
    unlock(); \
    return done

int unlinkat(int dir, const char *path, int flags) {
    char whole[PATH_MAX], kept[PATH_MAX];
    REAL(int, unlinkat, int, const char *, int);
    if (!path_below(dir, path, whole) || access(whole, F_OK)) return real_unlinkat(dir, path, flags);
    if (flags & AT_REMOVEDIR) {
        NAMED(keep_name(L_RMDIR, whole, NULL, whole), real_unlinkat(dir, path, flags));
    }
    NAMED(to_limbo(whole, kept); keep_name(L_UNLINK, whole, kept, whole), real_unlinkat(dir, path, flags));
}
int unlink(const char *path) { return unlinkat(AT_FDCWD, path, 0); }
int rmdir(const char *path) { return unlinkat(AT_FDCWD, path, AT_REMOVEDIR); }

int mkdirat(int dir, const char *path, mode_t mode) {
    char whole[PATH_MAX];
    REAL(int, mkdirat, int, const char *, mode_t);
    if (!path_below(dir, path, whole) || !access(whole, F_OK)) return real_mkdirat(dir, path, mode);
    NAMED(keep_name(L_MKDIR, whole, NULL, whole), real_mkdirat(dir, path, mode));
}
int mkdir(const char *path, mode_t mode) { return mkdirat(AT_FDCWD, path, mode); }

int linkat(int from_dir, const char *from, int to_dir, const char *to, int flags) {
    char source[PATH_MAX], target[PATH_MAX];
    REAL(int, linkat, int, const char *, int, const char *, int);
    path_below(from_dir, from, source);
    if (!path_below(to_dir, to, target) || !access(target, F_OK)) return real_linkat(from_dir, from, to_dir, to, flags);
    NAMED(keep_name(L_LINK, source, target, target), real_linkat(from_dir, from, to_dir, to, flags));
}
int link(const char *from, const char *to) { return linkat(AT_FDCWD, from, AT_FDCWD, to, 0); }

int renameat(int from_dir, const char *from, int to_dir, const char *to) {
    char source[PATH_MAX], target[PATH_MAX], kept[PATH_MAX] = "";
    REAL(int, renameat, int, const char *, int, const char *);
    int ours = path_below(from_dir, from, source) | path_below(to_dir, to, target);
    if (!ours || access(source, F_OK)) return real_renameat(from_dir, from, to_dir, to);
    NAMED(
        if (!access(target, F_OK)) to_limbo(target, kept);
        keep((struct record){.kind = L_RENAME, .ino = parent_of(target), .data = strlen(kept)}, kept, source, target),
        real_renameat(from_dir, from, to_dir, to));
}
int rename(const char *from, const char *to) { return renameat(AT_FDCWD, from, AT_FDCWD, to); }
