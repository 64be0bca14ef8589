"""The rows of the table in `film_kinds`."""

from __future__ import annotations

import struct
from pathlib import Path

from tests.delivery.film_kinds import Kind, run

X264 = "-c:v libx264 -preset veryfast -crf 16 -pix_fmt yuv420p"
X265 = "-c:v libx265 -preset ultrafast -crf 16 -x265-params log-level=error:keyint=24"
AAC = "-c:a aac -b:a 128k"
MPEG2 = "-c:v mpeg2video -q:v 2 -bf 2 -g 12 -pix_fmt yuv420p"
INTERLACED = "-flags +ildct+ilme"


def cut_off(share: float):
    """Keep the first part of a file."""
    def work(first: Path, to: Path) -> None:
        data = first.read_bytes()
        to.write_bytes(data[:int(len(data) * share)])
    return work


def blanked(begin: float, length: int):
    """Zero some bytes in the middle."""
    def work(first: Path, to: Path) -> None:
        data = bytearray(first.read_bytes())
        at = int(len(data) * begin)
        data[at:at + length] = bytes(length)
        to.write_bytes(data)
    return work


def lost_packets(first: Path, to: Path) -> None:
    """Take ten packets of 188 bytes out of a transport stream, past its middle."""
    data = first.read_bytes()
    at = len(data) * 6 // 10 // 188 * 188
    to.write_bytes(data[:at] + data[at + 1880:])


def late_join(first: Path, to: Path) -> None:
    """Begin a transport stream in the middle of a group of pictures."""
    data = first.read_bytes()
    to.write_bytes(data[len(data) // 8 // 188 * 188:])


def spoilt_sound(first: Path, to: Path) -> None:
    """Overwrite one sound packet in the second half of an MP4 file."""
    import av
    with av.open(str(first)) as container:
        packets = [packet for packet in container.demux(audio=0) if packet.size]
        spoilt = packets[len(packets) * 9 // 10]
        at, size = spoilt.pos, spoilt.size
    data = bytearray(first.read_bytes())
    data[at:at + size] = bytes(byte ^ 0x5A for byte in data[at:at + size])
    to.write_bytes(data)


def again(*arguments: str):
    """Run the file through ffmpeg once more, without encoding."""
    def work(first: Path, to: Path) -> None:
        run("ffmpeg", "-v", "error", "-y", *[str(first) if word == "IN" else word for word in arguments], to)
    return work


def with_matrix(a: int, b: int, c: int, d: int):
    """Write a matrix into the first track's header (ISO/IEC 14496-12, 8.3.2)."""
    def work(first: Path, to: Path) -> None:
        data = bytearray(first.read_bytes())
        at = data.index(b"tkhd") + 44
        one = 1 << 16
        data[at:at + 36] = struct.pack(">9i", a * one, b * one, 0, c * one, d * one, 0, 0, 0, 1 << 30)
        to.write_bytes(data)
    return work


def behind_a_small_one(first: Path, to: Path) -> None:
    """A small stream for quick looks before the real one, as some cameras write it."""
    run("ffmpeg", "-v", "error", "-y", "-i", first, "-filter_complex", "[0:v]scale=80:64[s]", "-map", "[s]", "-map",
        "0:v", "-map", "0:a", "-c:v:0", "libx264", "-c:v:1", "copy", "-c:a", "copy", to)


def beside_another_sound(first: Path, to: Path) -> None:
    run("ffmpeg", "-v", "error", "-y", "-i", first, "-f", "lavfi", "-i", "sine=frequency=300:duration=2", "-map", "0",
        "-map", "1", "-c", "copy", "-c:a:1", "aac", to)



TABLE: tuple[Kind, ...] = (
    # MP4
    Kind("mp4 h264 closed groups", ".mp4", f"{X264} -g 24 -bf 2 {AAC}"),
    Kind("mp4 h264 open groups", ".mp4", f"{X264} -bf 3 -x264-params open-gop=1:keyint=24:b-adapt=0:scenecut=0 {AAC}"),
    Kind("mp4 h264 pyramid", ".mp4", f"{X264} -g 30 -bf 6 -x264-params b-pyramid=normal:b-adapt=0:ref=6 {AAC}"),
    Kind("mp4 h264 no B pictures", ".mp4", f"{X264} -g 24 -bf 0 {AAC}"),
    Kind("mp4 h264 all keyframes", ".mp4", f"{X264} -g 1 {AAC}"),
    Kind("mp4 h264 intra refresh", ".mp4", f"{X264} -x264-params intra-refresh=1:keyint=12:bframes=0 {AAC}",
         refused=("copy", "pack")),
    Kind("mp4 h264 fragmented", ".mp4", f"{X264} -g 24 {AAC} -movflags frag_keyframe+empty_moov"),
    Kind("mp4 h264 variable rate", ".mp4", f"{X264} -g 24 -fps_mode vfr {AAC}", filters="select='mod(n\\,5)-2'"),
    Kind("mp4 h264 23.976", ".mp4", f"{X264} -g 24 {AAC}", rate="24000/1001"),
    Kind("mp4 h264 29.97", ".mp4", f"{X264} -g 30 {AAC}", rate="30000/1001"),
    Kind("mp4 h264 59.94", ".mp4", f"{X264} -g 60 {AAC}", rate="60000/1001", seconds=1.6),
    Kind("mp4 h264 120", ".mp4", f"{X264} -g 60 {AAC}", rate="120", seconds=1.6),
    Kind("mp4 h264 240", ".mp4", f"{X264} -g 60 {AAC}", rate="240", seconds=1.6),
    Kind("mp4 h264 no sound", ".mp4", f"{X264} -g 24", sound=False),
    Kind("mp4 h264 two sound tracks", ".mp4", f"{X264} -g 24 {AAC}", after=beside_another_sound),
    Kind("mp4 h264 small stream first", ".mp4", f"{X264} -g 24 {AAC}", after=behind_a_small_one),
    Kind("mp4 h264 begins by an edit", ".mp4", f"{X264} -g 24 -bf 3 {AAC}", seconds=3,
         after=again("-ss", "0.7", "-i", "IN", "-c", "copy")),
    Kind("mp4 h264 turned 90", ".mp4", f"{X264} -g 24 {AAC}", after=with_matrix(0, 1, -1, 0)),
    Kind("mp4 h264 turned 180", ".mp4", f"{X264} -g 24 {AAC}", after=with_matrix(-1, 0, 0, -1)),
    Kind("mp4 h264 turned 270", ".mp4", f"{X264} -g 24 {AAC}", after=with_matrix(0, -1, 1, 0)),
    Kind("mp4 h264 mirrored", ".mp4", f"{X264} -g 24 {AAC}", after=with_matrix(-1, 0, 0, 1), mirrored=True),
    Kind("mp4 h264 upside down mirrored", ".mp4", f"{X264} -g 24 {AAC}", after=with_matrix(1, 0, 0, -1), mirrored=True),
    Kind("mp4 h264 mirrored turned 90", ".mp4", f"{X264} -g 24 {AAC}", after=with_matrix(0, -1, -1, 0), mirrored=True),
    Kind("mp4 h264 wide pixels mirrored turned 270", ".mp4", f"{X264} -g 24 {AAC}", filters="setsar=4/3",
         after=with_matrix(0, 1, 1, 0), mirrored=True),
    Kind("mp4 h264 wide pixels", ".mp4", f"{X264} -g 24 {AAC}", filters="setsar=4/3"),
    Kind("mp4 h264 wide pixels turned 90", ".mp4", f"{X264} -g 24 {AAC}", filters="setsar=4/3",
         after=with_matrix(0, 1, -1, 0)),
    Kind("mp4 h264 cropped size", ".mp4", f"{X264} -g 24 {AAC}", size="158x122"),
    # Colours
    Kind("mp4 h264 full range", ".mp4", f"{X264.replace('yuv420p', 'yuvj420p')} -color_range pc -g 24 {AAC}",
         colours="170m full"),
    Kind("mp4 h264 untagged hd", ".mp4", f"{X264} -g 24 {AAC}", size="128x720", colours="709 limited", seconds=1.2),
    Kind("mp4 h264 bt601 hd", ".mp4", f"{X264} -colorspace smpte170m -g 24 {AAC}", size="128x720", seconds=1.2),
    Kind("mp4 h264 bt709 sd", ".mp4", f"{X264} -colorspace bt709 -color_primaries bt709 -color_trc bt709 -g 24 {AAC}",
         colours="709 limited"),
    Kind("mp4 h264 bt709 full range hd", ".mp4", f"{X264} -colorspace bt709 -color_range pc -g 24 {AAC}",
         size="128x720", colours="709 full", seconds=1.2),
    Kind("mp4 h264 10 bit", ".mp4", f"-c:v libx264 -preset veryfast -crf 14 -pix_fmt yuv420p10le -g 24 {AAC}"),
    Kind("mp4 h264 4:2:2", ".mp4", f"-c:v libx264 -preset veryfast -crf 14 -pix_fmt yuv422p -g 24 {AAC}"),
    Kind("mp4 h264 4:4:4", ".mp4", f"-c:v libx264 -preset veryfast -crf 14 -pix_fmt yuv444p -g 24 {AAC}"),
    Kind("mov hevc 10 bit hlg", ".mov", f"{X265} -pix_fmt yuv420p10le -tag:v hvc1 -colorspace bt2020nc "
                                        "-color_primaries bt2020 -color_trc "
         f"arib-std-b67 {AAC}", colours="2020_ncl limited"),
    Kind("mp4 hevc 10 bit pq", ".mp4", f"{X265} -pix_fmt yuv420p10le -tag:v hvc1 -colorspace bt2020nc -color_primaries "
                                       "bt2020 -color_trc "
         f"smpte2084 {AAC}", colours="2020_ncl limited"),
    Kind("mp4 hevc 10 bit bt2020", ".mp4", f"{X265} -pix_fmt yuv420p10le -tag:v hvc1 -colorspace bt2020nc "
                                           "-color_primaries bt2020 -color_trc "
         f"bt2020-10 {AAC}", colours="2020_ncl limited"),
    # Other codecs in MP4
    Kind("mp4 hevc hvc1", ".mp4", f"{X265}:bframes=3 -pix_fmt yuv420p -tag:v hvc1 {AAC}"),
    Kind("mp4 hevc hev1", ".mp4", f"{X265} -pix_fmt yuv420p -tag:v hev1 {AAC}"),
    Kind("mp4 hevc open groups", ".mp4", f"{X265}:open-gop=1:bframes=3 -pix_fmt yuv420p -tag:v hvc1 {AAC}"),
    Kind("mp4 av1", ".mp4", f"-c:v libsvtav1 -preset 10 -crf 20 -g 24 -pix_fmt yuv420p {AAC}"),
    Kind("mp4 vp9", ".mp4", f"-c:v libvpx-vp9 -deadline realtime -cpu-used 8 -b:v 1M -g 24 -pix_fmt yuv420p {AAC}"),
    Kind("mp4 mpeg4", ".mp4", f"-c:v mpeg4 -q:v 2 -bf 2 -g 24 -pix_fmt yuv420p {AAC}"),
    Kind("mp4 mjpeg", ".mp4", f"-c:v mjpeg -q:v 2 -pix_fmt yuvj420p {AAC}", colours="170m full"),
    Kind("3gp h264", ".3gp", f"{X264} -g 24 {AAC}"),
    # QuickTime
    Kind("mov h264 pcm", ".mov", f"{X264} -g 24 -c:a pcm_s16le"),
    Kind("mov h264 alac", ".mov", f"{X264} -g 24 -c:a alac"),
    Kind("mov prores pcm", ".mov", "-c:v prores_ks -profile:v 2 -pix_fmt yuv422p10le -c:a pcm_s24le"),
    Kind("mov dnxhr", ".mov", "-c:v dnxhd -profile:v dnxhr_hq -pix_fmt yuv422p -c:a pcm_s16le", size="256x128",
         colours="709 limited"),
    Kind("mov mjpeg pcm", ".mov", "-c:v mjpeg -q:v 2 -pix_fmt yuvj422p -c:a pcm_s16be", colours="170m full"),
    Kind("mov time code dropping", ".mov", f"{X264} -g 24 {AAC} -timecode 00:59:59;20", rate="30000/1001"),
    Kind("mov time code not dropping", ".mov", f"{X264} -g 24 {AAC} -timecode 00:59:59:20", rate="30000/1001"),
    Kind("mov time code 120", ".mov", f"{X264} -g 60 {AAC} -timecode 10:00:00:115", rate="120", seconds=1.6),
    Kind("mov time code 240", ".mov", f"{X264} -g 60 {AAC} -timecode 10:00:00:230", rate="240", seconds=1.6),
    Kind("mov time code 25", ".mov", f"{X264} -g 24 {AAC} -timecode 10:00:00:00"),
    Kind("mov field coded h264", ".mov", AAC, hand_made=True),
    # Transport and program streams
    Kind("mts h264 top field first ac3", ".mts",
         f"{X264} {INTERLACED} -x264-params tff=1:open-gop=1 -g 12 -c:a ac3 -f mpegts", rate="50",
         filters="interlace,setfield=tff"),
    Kind("mts h264 bottom field first ac3", ".mts", f"{X264} {INTERLACED} -x264-params bff=1 -g 12 -c:a ac3 -f mpegts",
         rate="50", filters="interlace=scan=bff,setfield=bff"),
    Kind("mts field coded h264 ac3", ".mts", "-c:a ac3 -f mpegts", hand_made=True),
    Kind("ts h264 aac", ".ts", f"{X264} -g 24 {AAC}"),
    Kind("ts hevc", ".ts", f"{X265} -pix_fmt yuv420p {AAC}"),
    Kind("ts mpeg2 mp2", ".ts", f"{MPEG2} -c:a mp2"),
    Kind("ts late start", ".ts", f"{X264} -g 24 {AAC} -output_ts_offset 1234.5"),
    Kind("ts clock passes its end", ".ts", f"{X264} -g 24 {AAC} -output_ts_offset 95442.9"),
    Kind("ts h264 intra refresh", ".ts", f"{X264} -x264-params intra-refresh=1:keyint=12:bframes=0 {AAC}",
         refused=("copy", "pack")),
    Kind("mpg mpeg2 mp2", ".mpg", f"{MPEG2} -c:a mp2"),
    Kind("mpg mpeg2 ac3", ".mpg", f"{MPEG2} -c:a ac3 -f vob"),
    Kind("mpg mpeg2 interlaced ac3", ".mpg", f"{MPEG2} {INTERLACED} -top 1 -c:a ac3 -f vob", rate="50",
         filters="interlace,setfield=tff"),
    Kind("mpg mpeg1 mp2", ".mpg", "-c:v mpeg1video -q:v 2 -g 12 -bf 2 -pix_fmt yuv420p -c:a mp2",
         refused=("copy", "pack")),
    Kind("mpg mpeg2 long", ".mpg", f"{MPEG2} -c:a ac3 -f vob", seconds=6),
    # Matroska
    Kind("mkv h264 aac", ".mkv", f"{X264} -g 24 -bf 2 {AAC}"),
    Kind("mkv h264 flac", ".mkv", f"{X264} -g 24 -c:a flac"),
    Kind("mkv h264 mp3", ".mkv", f"{X264} -g 24 -c:a libmp3lame"),
    Kind("mkv h264 vorbis", ".mkv", f"{X264} -g 24 -c:a libvorbis"),
    Kind("mkv h264 pcm", ".mkv", f"{X264} -g 24 -c:a pcm_s16le"),
    Kind("mkv hevc opus", ".mkv", f"{X265} -pix_fmt yuv420p -c:a libopus"),
    Kind("mkv av1 opus", ".mkv", "-c:v libsvtav1 -preset 10 -crf 20 -g 24 -pix_fmt yuv420p -c:a libopus"),
    Kind("webm vp9 opus", ".webm", "-c:v libvpx-vp9 -deadline realtime -cpu-used 8 -b:v 1M -g 24 -pix_fmt yuv420p -c:a "
                                   "libopus"),
    Kind("webm vp8 vorbis", ".webm", "-c:v libvpx -deadline realtime -cpu-used 8 -b:v 1M -g 24 -pix_fmt yuv420p -c:a "
                                     "libvorbis",
         refused=("copy", "pack")),
    Kind("mkv ffv1 flac", ".mkv", "-c:v ffv1 -pix_fmt yuv420p -c:a flac", refused=("copy", "pack")),
    Kind("mkv field coded h264", ".mkv", AAC, hand_made=True),
    Kind("mkv h264 sound at 12 kHz", ".mkv", f"{X264} -g 24 -c:a aac -ar 12000 -b:a 48k"),
    # Others
    Kind("avi mpeg4 mp3", ".avi", "-c:v mpeg4 -q:v 2 -g 24 -pix_fmt yuv420p -c:a libmp3lame"),
    Kind("avi mjpeg pcm", ".avi", "-c:v mjpeg -q:v 2 -pix_fmt yuvj420p -c:a pcm_s16le", colours="170m full"),
    Kind("avi h264 pcm", ".avi", f"{X264} -g 24 -bf 2 -c:a pcm_s16le"),
    Kind("avi mpeg2 mp2", ".avi", f"{MPEG2} -c:a mp2"),
    Kind("avi dv", ".avi", "-c:v dvvideo -pix_fmt yuv411p -c:a pcm_s16le", size="720x480", rate="30000/1001",
         seconds=1.2, filters="setsar=8/9"),
    Kind("mxf mpeg2 pcm", ".mxf", "-c:v mpeg2video -q:v 2 -bf 2 -g 12 -pix_fmt yuv422p -c:a pcm_s16le"),
    # D-10 (SMPTE 356M): 50 Mb/s, every picture 250,000 bytes, 32 lines of vertical blanking above
    Kind("mxf d10 mpeg2 pcm", ".mxf",
         "-c:v mpeg2video -pix_fmt yuv422p -b:v 50M -minrate 50M -maxrate 50M -bufsize 2000000 "
         "-rc_init_occupancy 2000000 -g 1 -intra_vlc 1 -non_linear_quant 1 -dc 10 -qmin 1 -qmax 12 "
         "-flags +ildct+ilme+low_delay -ps 1 -lmin 118 -rc_max_vbv_use 1 -rc_min_vbv_use 1 -field_order tt "
         "-c:a pcm_s16le -ac 2 -f mxf_d10", size="720x608", rate="50", seconds=1.2, filters="interlace,setfield=tff"),
    Kind("mxf dnxhr pcm", ".mxf", "-c:v dnxhd -profile:v dnxhr_hq -pix_fmt yuv422p -c:a pcm_s16le", size="256x128",
         colours="709 limited"),
    Kind("flv h264 aac", ".flv", f"{X264} -g 24 -bf 2 {AAC}"),
    # Damage
    Kind("mp4 h264 a spoilt sound packet", ".mp4", f"{X264} -g 24 {AAC}", seconds=3, after=spoilt_sound, damaged=True),
    Kind("mp4 h264 cut off", ".mp4", f"{X264} -g 24 {AAC} -movflags faststart", seconds=3, after=cut_off(0.7),
         damaged=True),
    Kind("ts h264 cut off", ".ts", f"{X264} -g 24 {AAC}", seconds=3, after=cut_off(0.7), damaged=True),
    Kind("mkv h264 cut off", ".mkv", f"{X264} -g 24 {AAC}", seconds=3, after=cut_off(0.7), damaged=True),
    Kind("avi mpeg4 cut off", ".avi", "-c:v mpeg4 -q:v 2 -g 24 -pix_fmt yuv420p -c:a libmp3lame", seconds=3,
         after=cut_off(0.7), damaged=True),
    Kind("mpg mpeg2 cut off", ".mpg", f"{MPEG2} -c:a mp2", seconds=3, after=cut_off(0.7), damaged=True),
    Kind("ts h264 lost packets", ".ts", f"{X264} -g 24 {AAC}", seconds=3, after=lost_packets, damaged=True),
    Kind("ts h264 joined late", ".ts", f"{X264} -g 24 {AAC}", seconds=3, after=late_join, damaged=True),
    Kind("mp4 h264 blank block", ".mp4", f"{X264} -g 24 {AAC} -movflags faststart", seconds=3, after=blanked(0.8, 400),
         damaged=True),
)
