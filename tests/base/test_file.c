/* Whole files in and out: the old file or the new one, never half of one; modes, links, limits; SHA-256. */
#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <dirent.h>
#include <sys/file.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>
#include "check_close.h"
#include "holdfast/base/file.h"
#include "holdfast/base/file_lock.h"

enum { PATH_SIZE = 256 };

/* Calls that a disk refuses only now and then; the linker leads them here (--wrap). 0: the call goes through. */
static int link_errno, rename_errno, fsync_errno;
int __real_link(const char *from, const char *to);
int __real_rename(const char *from, const char *to);
int __real_fsync(int descriptor);
int __wrap_link(const char *from, const char *to);
int __wrap_rename(const char *from, const char *to);
int __wrap_fsync(int descriptor);

int __wrap_link(const char *from, const char *to) {
    errno = link_errno;
    return link_errno ? -1 : __real_link(from, to);
}

int __wrap_rename(const char *from, const char *to) {
    errno = rename_errno;
    return rename_errno ? -1 : __real_rename(from, to);
}

int __wrap_fsync(int descriptor) {
    errno = fsync_errno;
    return fsync_errno ? -1 : __real_fsync(descriptor);
}

static char folder[PATH_SIZE / 2];
static char path[PATH_SIZE], other[PATH_SIZE];
static hf_error error;

static void make_folder(void) {
    const char *parent = getenv("TMPDIR");
    (void)snprintf(folder, sizeof folder, "%.80s/holdfast-file-XXXXXX", parent ? parent : "/tmp");
    ck_assert_ptr_nonnull(mkdtemp(folder));
    (void)snprintf(path, sizeof path, "%s/shade-sail.json", folder);
    (void)snprintf(other, sizeof other, "%s/other", folder);
    hf_error_clear(&error);
    link_errno = rename_errno = fsync_errno = 0;
}

static int entries(bool erase) {
    int count = 0;
    DIR *directory = opendir(folder);
    ck_assert_ptr_nonnull(directory);
    for (const struct dirent *entry = readdir(directory); entry; entry = readdir(directory)) {
        if (strcmp(entry->d_name, ".") == 0 || strcmp(entry->d_name, "..") == 0) continue;
        count++;
        if (erase) (void)unlinkat(dirfd(directory), entry->d_name, 0);
    }
    (void)closedir(directory);
    return count;
}

static void remove_folder(void) {
    (void)chmod(folder, 0700);
    (void)entries(true);
    ck_assert_int_eq(rmdir(folder), 0);
}

static void put_file(const char *name, const char *bytes) {
    FILE *file = fopen(name, "wb");
    ck_assert_ptr_nonnull(file);
    ck_assert_uint_eq(fwrite(bytes, 1, strlen(bytes), file), strlen(bytes));
    ck_assert_int_eq(fclose(file), 0);
}

static void must_hold(const char *name, const char *bytes, size_t length) {
    hf_text text = {0};
    ck_assert_int_eq(hf_file_read(name, 1 << 24, &text, NULL), HF_OK);
    ck_assert_uint_eq(text.length, length);
    if (length) ck_assert(memcmp(text.bytes, bytes, length) == 0);
    hf_text_free(&text);
}

static mode_t mode_of(const char *name) {
    struct stat about;
    ck_assert_int_eq(stat(name, &about), 0);
    return about.st_mode & 07777;
}

/* The message is "PATH: WHAT: REASON" or "PATH: WHAT"; the path is asked for, so that it is the one the person knows. */
static void must_refuse(hf_status status, hf_status expected, const char *name, const char *rest) {
    char words[HF_MESSAGE_SIZE];
    (void)snprintf(words, sizeof words, "%s: %s", name, rest);
    ck_assert_int_eq(status, expected);
    ck_assert_int_eq(error.status, expected);
    ck_assert_str_eq(error.message, words);
}

START_TEST(a_new_file_has_the_mode_of_the_mask) {
    mode_t mask = umask(027);
    ck_assert_int_eq(hf_file_replace(path, "new\0file", 8, &error), HF_OK);
    (void)umask(mask);
    must_hold(path, "new\0file", 8);
    ck_assert_uint_eq(mode_of(path), 0640);
    ck_assert_int_eq(entries(false), 1);
}
END_TEST

START_TEST(an_old_file_keeps_its_mode) {
    static const mode_t modes[] = {0600, 0644, 0664, 0755};
    for (size_t i = 0; i < sizeof modes / sizeof *modes; i++) {
        put_file(path, "old and longer");
        ck_assert_int_eq(chmod(path, modes[i]), 0);
        ck_assert_int_eq(hf_file_replace(path, "new", 3, &error), HF_OK);
        must_hold(path, "new", 3);
        ck_assert_uint_eq(mode_of(path), modes[i]);
    }
    ck_assert_int_eq(entries(false), 1);
}
END_TEST

START_TEST(nothing_is_a_file_too) {
    put_file(path, "old");
    ck_assert_int_eq(hf_file_replace(path, "", 0, &error), HF_OK);
    must_hold(path, "", 0);
}
END_TEST

/* Whoever has the old file open keeps reading the old bytes: it was replaced, not written over. */
START_TEST(readers_of_the_old_file_keep_it) {
    char bytes[16] = "";
    put_file(path, "old bytes");
    int descriptor = open(path, O_RDONLY);
    ck_assert_int_eq(hf_file_replace(path, "new", 3, &error), HF_OK);
    ck_assert_int_eq(read(descriptor, bytes, sizeof bytes - 1), 9);
    ck_assert_str_eq(bytes, "old bytes");
    (void)close(descriptor);
}
END_TEST

START_TEST(a_link_leads_to_its_target) {
    struct stat about;
    put_file(other, "old");
    ck_assert_int_eq(chmod(other, 0604), 0);
    ck_assert_int_eq(symlink("other", path), 0);
    ck_assert_int_eq(hf_file_replace(path, "new", 3, &error), HF_OK);
    ck_assert_int_eq(lstat(path, &about), 0);
    ck_assert(S_ISLNK(about.st_mode));
    ck_assert_int_eq(lstat(other, &about), 0);
    ck_assert(S_ISREG(about.st_mode));
    must_hold(other, "new", 3);
    ck_assert_uint_eq(mode_of(other), 0604);
    ck_assert_int_eq(entries(false), 2);
}
END_TEST

START_TEST(a_link_to_nothing_is_refused) {
    char target[16] = "";
    ck_assert_int_eq(symlink("missing", path), 0);
    must_refuse(hf_file_replace(path, "new", 3, &error), HF_FILE, path,
                "is a symbolic link that leads to no file: No such file or directory");
    ck_assert_int_eq(readlink(path, target, sizeof target - 1), 7);
    ck_assert_str_eq(target, "missing");
    ck_assert_int_eq(entries(false), 1);
}
END_TEST

/* A file may grow to 4096 bytes only: what a full disk does, half-way through the writing. */
START_TEST(a_failed_write_leaves_the_old_file) {
    struct rlimit before, small;
    static char large[100000];
    put_file(path, "old");
    ck_assert_int_eq(getrlimit(RLIMIT_FSIZE, &before), 0);
    small = before;
    small.rlim_cur = 4096;
    void (*handler)(int) = signal(SIGXFSZ, SIG_IGN);
    ck_assert_int_eq(setrlimit(RLIMIT_FSIZE, &small), 0);
    hf_status status = hf_file_replace(path, large, sizeof large, &error);
    hf_error first = error;
    hf_status created = hf_file_create(other, large, sizeof large, &error);
    ck_assert_int_eq(setrlimit(RLIMIT_FSIZE, &before), 0);
    (void)signal(SIGXFSZ, handler);
    ck_assert_int_eq(created, HF_FILE);
    error = first;
    must_refuse(
        status, HF_FILE, path,
        "cannot be written: File too large; 100000 bytes must be free there, and what was there before "
        "is unchanged");
    must_hold(path, "old", 3);
    ck_assert_int_eq(entries(false), 1); /* neither temporary file is left, nor half of the other */
}
END_TEST

START_TEST(a_full_device_is_told) {
    ck_assert_int_eq(access("/dev/full", W_OK), 0);
    must_refuse(hf_file_replace("/dev/full", "new", 3, &error), HF_FILE, "/dev/full",
                "cannot be written: No space left on device");
    ck_assert_int_eq(hf_file_replace("/dev/null", "new", 3, &error), HF_OK);
}
END_TEST

START_TEST(a_missing_folder_is_told) {
    (void)snprintf(other, sizeof other, "%s/missing/x.json", folder);
    must_refuse(hf_file_replace(other, "new", 3, &error), HF_FILE, other,
                "cannot be written: No such file or directory");
    must_refuse(hf_file_create(other, "new", 3, &error), HF_FILE, other,
                "cannot be written: No such file or directory");
    must_refuse(hf_file_replace(folder, "new", 3, &error), HF_FILE, folder, "is a folder, expected a file");
    ck_assert_int_eq(entries(false), 0);
}
END_TEST

/* The superuser may write everywhere except where the kernel says no, hence two folders. */
START_TEST(a_folder_that_cannot_be_written_is_told) {
    put_file(path, "old");
    ck_assert_int_eq(chmod(folder, 0500), 0);
    if (geteuid() != 0) {
        must_refuse(hf_file_replace(path, "new", 3, &error), HF_FILE, path,
                    "cannot be written: Permission denied");
        must_hold(path, "old", 3);
    }
    ck_assert_int_eq(hf_file_replace("/proc/self/x.json", "new", 3, &error), HF_FILE);
    ck_assert_str_eq(error.message, "/proc/self/x.json: cannot be written: No such file or directory");
}
END_TEST

START_TEST(creating_never_overwrites) {
    ck_assert_int_eq(hf_file_create(path, "first", 5, &error), HF_OK);
    must_refuse(hf_file_create(path, "second", 6, &error), HF_FILE, path,
                "exists already and is not overwritten");
    must_hold(path, "first", 5);
    ck_assert_int_eq(symlink("missing", other), 0);
    must_refuse(hf_file_create(other, "second", 6, &error), HF_FILE, other,
                "exists already and is not overwritten");
    must_refuse(hf_file_create(folder, "second", 6, &error), HF_FILE, folder,
                "exists already and is not overwritten");
    ck_assert_int_eq(entries(false), 2);
}
END_TEST

START_TEST(a_disk_that_fails_leaves_the_old_file) {
    put_file(path, "old");
    fsync_errno = EIO;
    must_refuse(hf_file_replace(path, "new", 3, &error), HF_FILE, path,
                "cannot be written: Input/output error");
    must_refuse(hf_file_create(other, "new", 3, &error), HF_FILE, other,
                "cannot be written: Input/output error");
    fsync_errno = 0;
    rename_errno = EACCES;
    must_refuse(hf_file_replace(path, "new", 3, &error), HF_FILE, path,
                "cannot be written: Permission denied");
    must_hold(path, "old", 3);
    ck_assert_int_eq(entries(false), 1);
}
END_TEST

/* FAT on a memory stick: link comes back with EPERM. */
START_TEST(creating_works_without_hard_links) {
    link_errno = EPERM;
    ck_assert_int_eq(hf_file_create(path, "first", 5, &error), HF_OK);
    must_hold(path, "first", 5);
    must_refuse(hf_file_create(path, "second", 6, &error), HF_FILE, path,
                "exists already and is not overwritten");
    must_hold(path, "first", 5);
    rename_errno = EIO;
    must_refuse(hf_file_create(other, "second", 6, &error), HF_FILE, other,
                "cannot be written: Input/output error");
    ck_assert_int_eq(entries(false), 1);
    link_errno = ENOSPC; /* no other way round that one */
    must_refuse(hf_file_create(other, "second", 6, &error), HF_FILE, other,
                "cannot be written: No space left on device; 6 bytes must be free there, and what was there "
                "before is unchanged");
    ck_assert_int_eq(entries(false), 1);
}
END_TEST

/* Another program makes the file between the look and the writing. */
START_TEST(a_name_taken_meanwhile_is_not_overwritten) {
    link_errno = EEXIST;
    must_refuse(hf_file_create(path, "second", 6, &error), HF_FILE, path,
                "exists already and is not overwritten");
    ck_assert_int_eq(entries(false), 0);
}
END_TEST

START_TEST(reading_has_a_limit) {
    hf_text text = {0};
    put_file(path, "0123456789");
    ck_assert_int_eq(hf_file_read(path, 10, &text, &error), HF_OK);
    ck_assert_str_eq(text.bytes, "0123456789");
    hf_text_free(&text);
    must_refuse(hf_file_read(path, 9, &text, &error), HF_BAD_DATA, path,
                "longer than 9 bytes, which is the most that is read");
    hf_text_free(&text);
}
END_TEST

START_TEST(large_files_come_back_whole) {
    enum { LENGTH = 300001 };
    char *bytes = malloc(LENGTH);
    for (int i = 0; i < LENGTH; i++) bytes[i] = (char)(i * 7 + i / 251);
    ck_assert_int_eq(hf_file_replace(path, bytes, LENGTH, &error), HF_OK);
    must_hold(path, bytes, LENGTH);
    free(bytes);
}
END_TEST

START_TEST(what_cannot_be_read_is_told) {
    hf_text text = {0};
    must_refuse(hf_file_read(path, 100, &text, &error), HF_FILE, path,
                "cannot be opened: No such file or directory");
    must_refuse(hf_file_read(folder, 100, &text, &error), HF_FILE, folder, "cannot be read: Is a directory");
    hf_text_free(&text);
}
END_TEST

/* "-" is written and read through descriptors 1 and 0, here turned to files for a moment. */
static hf_status with_descriptor(int number, int flags, hf_text *text) {
    int kept = dup(number), file = open(path, flags, 0600);
    ck_assert_int_ge(file, 0);
    (void)fflush(stdout);
    (void)dup2(file, number);
    (void)close(file);
    hf_status status =
        text ? hf_file_read("-", 100, text, &error) : hf_file_replace("-", "to stdout", 9, &error);
    (void)dup2(kept, number);
    (void)close(kept);
    return status;
}

START_TEST(a_dash_is_a_standard_stream) {
    hf_text text = {0};
    ck_assert_int_eq(with_descriptor(STDOUT_FILENO, O_WRONLY | O_CREAT | O_TRUNC, NULL), HF_OK);
    must_hold(path, "to stdout", 9);
    ck_assert_int_eq(with_descriptor(STDIN_FILENO, O_RDONLY, &text), HF_OK);
    ck_assert_str_eq(text.bytes, "to stdout");
    hf_text_free(&text);
    (void)snprintf(path, sizeof path, "/dev/full");
    must_refuse(with_descriptor(STDOUT_FILENO, O_WRONLY, NULL), HF_FILE, "standard output",
                "cannot be written: No space left on device");
}
END_TEST

typedef struct digest {
    const char *bytes;
    size_t repeated;
    const char *hex;
} digest;

/* FIPS 180-2 appendix B (one block, two blocks, a million letters) and the empty and 24-bit messages of NIST's example values; the
 * lengths around the padding's edge (55, 56, 63, 64, 65, 119, 120 letters a) were computed with GNU coreutils 9.1 sha256sum. */
static const digest digests[] = {
    {"", 1, "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"},
    {"abc", 1, "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"},
    {"abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq", 1,
     "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1"},
    {"a", 1000000, "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0"},
    {"a", 55, "9f4390f8d30c2dd92ec9f095b65e2b9ae9b0a925a5258e241c9f1e910f734318"},
    {"a", 56, "b35439a4ac6f0948b6d6f9e3c6af0f5f590ce20f1bde7090ef7970686ec6738a"},
    {"a", 63, "7d3e74a05d7db15bce4ad9ec0658ea98e3f06eeecf16b4c6fff2da457ddc2f34"},
    {"a", 64, "ffe054fe7ae0cb6dc65c3af9b61d5209f439851db43d0ba5997337df154668eb"},
    {"a", 65, "635361c48bb9eab14198e76ea8ab7f1a41685d6ad62aa9146d301d4f17eb0ae0"},
    {"a", 119, "31eba51c313a5c08226adf18d4a359cfdfd8d2e816b13f4af952f7ea6584dcfb"},
    {"a", 120, "2f3d335432c70b580af0e8e1b3674a7c020d683aa5f73aaaedfdc55af904c21c"},
};

START_TEST(digests_are_those_of_the_standard) {
    const digest *row = &digests[_i];
    char hex[65];
    hf_text text = {0};
    for (size_t i = 0; i < row->repeated; i++) hf_text_add(&text, row->bytes);
    hf_file_sha256(text.bytes ? text.bytes : "", text.length, hex);
    ck_assert_str_eq(hex, row->hex);
    hf_text_free(&text);
}
END_TEST

/* The superuser too, whom the system would let through. */
START_TEST(a_read_only_file_is_refused) {
    char rest[HF_MESSAGE_SIZE];
    put_file(path, "old");
    ck_assert_int_eq(chmod(path, 0444), 0);
    (void)snprintf(rest, sizeof rest, "is read-only, and nothing was written; to allow it: chmod u+w %s",
                   path);
    must_refuse(hf_file_replace(path, "new", 3, &error), HF_FILE, path, rest);
    must_hold(path, "old", 3);
    ck_assert_int_eq(entries(false), 1);
}
END_TEST

START_TEST(rights_beyond_reading_and_writing_are_not_copied) {
    put_file(path, "old");
    ck_assert_int_eq(chmod(path, 06755), 0);
    ck_assert_int_eq(hf_file_replace(path, "new", 3, &error), HF_OK);
    ck_assert_uint_eq(mode_of(path), 0755);
}
END_TEST

/* Only the superuser can give files away; for all others the group is the one they have. */
START_TEST(owner_and_group_are_kept) {
    struct stat about;
    put_file(path, "old");
    uid_t owner = geteuid() == 0 ? 4711 : geteuid();
    gid_t group = geteuid() == 0 ? 4712 : getegid();
    ck_assert_int_eq(chown(path, owner, group), 0);
    ck_assert_int_eq(hf_file_replace(path, "new", 3, &error), HF_OK);
    ck_assert_int_eq(stat(path, &about), 0);
    ck_assert_uint_eq(about.st_uid, owner);
    ck_assert_uint_eq(about.st_gid, group);
}
END_TEST

/* The 4 check digits: the first of the SHA-256 of the 16 before them (GNU coreutils 9.1 sha256sum). */
START_TEST(only_what_is_surely_ours_is_swept) {
    static const char *const names[] = {".holdfast-0123456789abcdef-9f9f.tmp",
                                        ".holdfast-0123456789abcdef-9f90.tmp", "shade-sail.json.abcdef",
                                        ".holdfast-notes.tmp"};
    struct timespec old[2] = {{time(NULL) - 7200, 0}, {time(NULL) - 7200, 0}};
    for (size_t i = 0; i < 2 * sizeof names / sizeof *names; i++) {
        (void)snprintf(other, sizeof other, "%s/%s", folder, names[i % 4]);
        if (i < 4) put_file(other, "left");
        if (i < 4) ck_assert_int_eq(utimensat(AT_FDCWD, other, old, 0), 0);
        if (i == 3) ck_assert_int_eq(hf_file_replace(path, "new", 3, &error), HF_OK);
        if (i >= 4) ck_assert_int_eq(access(other, F_OK), i == 4 ? -1 : 0);
    }
    (void)snprintf(other, sizeof other, "%s/%s", folder, names[0]);
    put_file(other, "young");
    ck_assert_int_eq(hf_file_replace(path, "new", 3, &error), HF_OK);
    ck_assert_int_eq(access(other, F_OK), 0);
    ck_assert_int_eq(utimensat(AT_FDCWD, other, old, 0), 0);
    int held = open(other, O_RDONLY);
    ck_assert_int_eq(flock(held, LOCK_EX), 0);
    ck_assert_int_eq(hf_file_replace(path, "new", 3, &error), HF_OK);
    ck_assert_int_eq(access(other, F_OK), 0); /* in use */
    (void)close(held);
    ck_assert_int_eq(hf_file_replace(path, "new", 3, &error), HF_OK);
    ck_assert_int_eq(access(other, F_OK), -1);
}
END_TEST

static void swap_must(const char *read, const char *now, bool changed) {
    hf_file_lock *lock;
    char sha256[65];
    bool found;
    hf_text text = {0};
    hf_text_add(&text, "third");
    put_file(path, now);
    hf_file_sha256(read, strlen(read), sha256);
    ck_assert_int_eq(hf_file_lock_take(path, &lock, &error), HF_OK);
    ck_assert_int_eq(hf_file_swap(lock, sha256, &text, NULL, &found, &error), HF_OK);
    hf_file_lock_release(lock);
    ck_assert_int_eq(found, changed);
    must_hold(path, changed ? now : "third", changed ? strlen(now) : 5);
    ck_assert_int_eq(entries(false), 2); /* the log stays */
    hf_text_free(&text);
}

START_TEST(only_what_was_read_is_replaced) {
    swap_must("first", "first", false);
    swap_must("first", "second", true);
}
END_TEST

START_TEST(a_lock_belongs_to_the_file_behind_the_links) {
    hf_file_lock *lock;
    hf_text file = {0};
    bool taken;
    put_file(path, "old");
    ck_assert_int_eq(symlink("shade-sail.json", other), 0);
    ck_assert_int_eq(hf_file_lock_take(other, &lock, &error), HF_OK);
    (void)snprintf(other, sizeof other, "%s/shade-sail.json.log", folder);
    int second = open(other, O_RDONLY);
    taken = flock(second, LOCK_EX | LOCK_NB) == 0;
    ck_assert(!taken);
    ck_assert(hf_file_of_lock(other, &file));
    ck_assert_str_eq(strrchr(file.bytes, '/'), "/shade-sail.json");
    hf_file_lock_release(lock);
    ck_assert_int_eq(flock(second, LOCK_EX | LOCK_NB), 0);
    (void)close(second);
    hf_text_free(&file);
}
END_TEST

static Suite *file_suite(void) {
    Suite *suite = suite_create("base_file");
    TCase *files = tcase_create("files"), *hashes = tcase_create("sha256");
    tcase_add_checked_fixture(files, make_folder, remove_folder);
    tcase_add_test(files, a_new_file_has_the_mode_of_the_mask);
    tcase_add_test(files, an_old_file_keeps_its_mode);
    tcase_add_test(files, nothing_is_a_file_too);
    tcase_add_test(files, readers_of_the_old_file_keep_it);
    tcase_add_test(files, a_link_leads_to_its_target);
    tcase_add_test(files, a_link_to_nothing_is_refused);
    tcase_add_test(files, a_failed_write_leaves_the_old_file);
    tcase_add_test(files, a_full_device_is_told);
    tcase_add_test(files, a_missing_folder_is_told);
    tcase_add_test(files, a_folder_that_cannot_be_written_is_told);
    tcase_add_test(files, creating_never_overwrites);
    tcase_add_test(files, a_disk_that_fails_leaves_the_old_file);
    tcase_add_test(files, creating_works_without_hard_links);
    tcase_add_test(files, a_name_taken_meanwhile_is_not_overwritten);
    tcase_add_test(files, a_read_only_file_is_refused);
    tcase_add_test(files, rights_beyond_reading_and_writing_are_not_copied);
    tcase_add_test(files, owner_and_group_are_kept);
    tcase_add_test(files, only_what_is_surely_ours_is_swept);
    tcase_add_test(files, only_what_was_read_is_replaced);
    tcase_add_test(files, a_lock_belongs_to_the_file_behind_the_links);
    tcase_add_test(files, reading_has_a_limit);
    tcase_add_test(files, large_files_come_back_whole);
    tcase_add_test(files, what_cannot_be_read_is_told);
    tcase_add_test(files, a_dash_is_a_standard_stream);
    tcase_add_loop_test(hashes, digests_are_those_of_the_standard, 0, sizeof digests / sizeof *digests);
    suite_add_tcase(suite, files);
    suite_add_tcase(suite, hashes);
    return suite;
}

HF_TEST_MAIN(file_suite)
