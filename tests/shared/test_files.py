import os
import stat
import threading

import pytest

from shared.files import FileError, read_bounded, write_whole


@pytest.fixture
def usual_permissions():
    """A user whose new files others may read."""
    before = os.umask(0o022)
    yield
    os.umask(before)


def permissions(path) -> int:
    return stat.S_IMODE(path.stat().st_mode)


def test_a_file_of_as_many_bytes_as_are_read_is_read(tmp_path):
    (tmp_path / "in").write_bytes(b"12345")
    assert read_bounded(tmp_path / "in", 5) == b"12345"


def test_a_larger_file_is_refused_with_its_size_before_it_is_read(tmp_path):
    with (tmp_path / "in").open("wb") as file:
        file.truncate(3 * 1024**3)
    with pytest.raises(FileError) as refused:
        read_bounded(tmp_path / "in", 5)
    assert refused.value.say("en") == f"{tmp_path / 'in'} has 3221225472 bytes; at most 5 are read"
    assert "como máximo 5" in refused.value.say("es")


def test_a_pipe_that_nobody_writes_into_is_refused_at_once(tmp_path):
    os.mkfifo(tmp_path / "pipe")
    with pytest.raises(FileError) as refused:
        read_bounded(tmp_path / "pipe", 5)
    assert refused.value.say("en") == f"{tmp_path / 'pipe'} is not an ordinary file"


@pytest.mark.parametrize("name", ["", "/dev/zero"])
def test_a_folder_or_device_is_refused(tmp_path, name):
    with pytest.raises(FileError, match="file/not_ordinary"):
        read_bounded(tmp_path / name, 5)


def test_a_file_that_is_not_there_is_refused(tmp_path):
    with pytest.raises(FileError) as refused:
        read_bounded(tmp_path / "none", 5)
    assert "there is no file" in refused.value.say("en")


def test_a_new_file_gets_the_users_usual_permissions(tmp_path, usual_permissions):
    write_whole(tmp_path / "out", b"new")
    assert permissions(tmp_path / "out") == 0o644
    assert [path.name for path in tmp_path.iterdir()] == ["out"]


def test_a_file_that_is_there_is_replaced_and_keeps_its_permissions(tmp_path, usual_permissions):
    (tmp_path / "out").write_bytes(b"old")
    (tmp_path / "out").chmod(0o600)
    write_whole(tmp_path / "out", b"new")
    assert ((tmp_path / "out").read_bytes(), permissions(tmp_path / "out")) == (b"new", 0o600)


def test_a_link_stays_and_the_file_behind_it_is_written(tmp_path):
    (tmp_path / "file").write_bytes(b"old")
    (tmp_path / "link").symlink_to("file")
    write_whole(tmp_path / "link", b"new")
    assert (tmp_path / "link").is_symlink()
    assert (tmp_path / "file").read_bytes() == b"new"


def test_a_pipe_is_written_into(tmp_path):
    os.mkfifo(tmp_path / "pipe")
    writer = threading.Thread(target=write_whole, args=(tmp_path / "pipe", b"new"))
    writer.start()
    assert (tmp_path / "pipe").read_bytes() == b"new"
    writer.join()
    assert (tmp_path / "pipe").is_fifo()


@pytest.mark.parametrize(
    ("name", "why"), [("", "Is a directory"), ("none/out", "No such file"), ("x" * 300, "File name too long")]
)
def test_what_cannot_be_written_is_named_as_it_was_given(tmp_path, name, why):
    with pytest.raises(FileError) as refused:
        write_whole(tmp_path / name, b"new")
    assert refused.value.say("en").startswith(f"{tmp_path / name} can't be written: {why}")
    assert list(tmp_path.iterdir()) == []


def test_when_writing_fails_the_older_file_stays_whole_and_nothing_else_is_left(tmp_path, monkeypatch):
    (tmp_path / "out").write_bytes(b"older")
    full = OSError(28, "No space left on device")
    monkeypatch.setattr("pathlib.Path.replace", lambda *_: (_ for _ in ()).throw(full))
    with pytest.raises(FileError, match="file/unwritable"):
        write_whole(tmp_path / "out", b"new")
    assert (tmp_path / "out").read_bytes() == b"older"
    assert [path.name for path in tmp_path.iterdir()] == ["out"]
