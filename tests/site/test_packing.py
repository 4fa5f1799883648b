"""Files as they lie on the host, against the format's standard (RFC 8878) and its C library."""

from __future__ import annotations

import hashlib
import io

import pytest
import zstandard

from site_src.build.packing import packed, unpacked

CONTENT = b"".join(i.to_bytes(2, "little") for i in range(3000)) * 3


def test_a_file_is_what_any_decoder_of_the_format_reads() -> None:
    """It skips the first frame (3.1.2: magic number 0x184D2A50 to 0x184D2A5F, size, data)."""
    file = packed(CONTENT)
    assert file[:8] == bytes.fromhex("502A4D18 20000000")
    assert file[8:40] == hashlib.sha256(file[40:]).digest()
    reader = zstandard.ZstdDecompressor().stream_reader(io.BytesIO(file), read_across_frames=True)
    assert reader.read() == CONTENT == unpacked(file)


def test_it_is_the_same_each_time_kept_or_not(monkeypatch: pytest.MonkeyPatch, tmp_path) -> None:
    monkeypatch.setattr("site_src.build.packing._KEPT", tmp_path)
    fresh, kept = packed(CONTENT), packed(CONTENT)
    assert len(list(tmp_path.iterdir())) == 1
    assert fresh == kept


def test_no_more_is_kept_than_some_builds_need(monkeypatch: pytest.MonkeyPatch, tmp_path) -> None:
    monkeypatch.setattr("site_src.build.packing._KEPT", tmp_path)
    monkeypatch.setattr("site_src.build.packing._MOST_KEPT", 3)
    for i in range(5):
        packed(bytes([i]))
    assert len(list(tmp_path.iterdir())) == 3


@pytest.mark.parametrize("place", [0, 4, 8, 39, 40, 60, -1])
def test_one_other_bit_is_noticed(place: int) -> None:
    file = bytearray(packed(CONTENT))
    file[place] ^= 1
    with pytest.raises(ValueError, match="not what was packed"):
        unpacked(bytes(file))


def test_no_file_asks_for_more_memory_than_the_decoder_moves_quickly(dist) -> None:
    """RFC 8878, 3.1.1.1.2: the head of a frame tells the window that its decoder has to keep."""
    files = [f.read_bytes() for f in dist.rglob("*.packed")]
    assert len(files) >= 6
    windows = {zstandard.get_frame_parameters(file[40:]).window_size for file in files}
    assert max(windows) == 2 << 20
