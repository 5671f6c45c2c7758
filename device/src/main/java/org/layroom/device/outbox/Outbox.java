package org.layroom.device.outbox;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.channels.FileLock;
import java.nio.channels.OverlappingFileLockException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.time.Instant;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;
import org.layroom.device.files.WholeFile;
import org.layroom.device.sampling.Sample;
import org.tinylog.Logger;

/**
 * Samples on disk until they are stored upstairs: append-only files of checked records. A sample
 * has its number only when it is on disk; a number is never given twice, whatever is killed, torn
 * or damaged. Thread-safe.
 */
public final class Outbox implements AutoCloseable {
  private static final String NAME_FILE = "outbox";
  private static final String LOCK_FILE = "lock";

  private final Path folder;
  private final OutboxOptions options;
  private final Disk disk;
  private final String name;
  private final String boot = OutboxName.random();
  private final FileChannel lock;
  private final MarkFile markFile;
  private final Deque<Segment> segments = new ArrayDeque<>();
  private final Map<String, Instant> bootStarts = new HashMap<>();

  private final MachineStart machine;

  private Optional<Disk.AppendFile> tail = Optional.empty();
  private SyncRule syncs;

  /**
   * After a power cut samples may be gone that had been sent, and may even be stored: their numbers
   * are left out, and reported as lost. So it stays until a number above them is on the disk.
   */
  private boolean leavesOut;

  private long next = 1;
  private long mark;

  private Outbox(Path folder, OutboxOptions options, Disk disk, MachineStart machine)
      throws IOException {
    this.folder = folder;
    this.options = options;
    this.disk = disk;
    this.machine = machine;
    this.syncs = new SyncRule(options.sync());
    Files.createDirectories(folder);
    lock = locked(folder.resolve(LOCK_FILE));
    try {
      markFile = MarkFile.read(folder);
      mark = markFile.written();
      name = scanAll();
      next = Math.max(next, mark + 1);
      leavesOut = machine.stoppedWhileOpen() && next > 1;
      if (leavesOut) {
        next += SyncRule.MOST_UNSYNCED;
        Logger.warn("The machine stopped without warning: samples of a minute may be missing");
      } else {
        machine.opened();
      }
    } catch (IOException | RuntimeException e) {
      lock.close();
      throw e;
    }
  }

  /**
   * Opens the outbox in a folder; makes one when there is none.
   *
   * @throws IOException when the folder cannot be used, or another program has it open
   */
  public static Outbox open(Path folder, OutboxOptions options) throws IOException {
    return open(folder, options, Disk.REAL, MachineStart.of(folder));
  }

  static Outbox open(Path folder, OutboxOptions options, Disk disk, MachineStart machine)
      throws IOException {
    return new Outbox(folder, options, disk, machine);
  }

  /** The outbox's random name. */
  public String name() {
    return name;
  }

  /** The name of this start of the device. */
  public String boot() {
    return boot;
  }

  /** Whether appends wait for the disk as usual; switched off for filling in a made-up past. */
  public synchronized void syncing(boolean asUsual) throws IOException {
    syncs = new SyncRule(asUsual ? options.sync() : OutboxOptions.Sync.NEVER);
    if (asUsual && tail.isPresent()) {
      tail.get().force();
    }
  }

  /** Keeps a sample of this start of the device. */
  public OutboxAppend append(Sample sampled) {
    return append(sampled, boot);
  }

  /** Keeps a sample as if another start of the device had measured it. */
  public synchronized OutboxAppend append(Sample sampled, String ofBoot) {
    OutboxSample sample =
        new OutboxSample(
            next,
            ofBoot,
            sampled.uptime(),
            sampled.wall(),
            sampled.wallClockSet(),
            sampled.readings());
    try {
      write(sample);
    } catch (IOException e) {
      Logger.debug(e, "A sample was not saved");
      return new OutboxAppend.NotKept("samples cannot be saved to disk: " + e.getMessage());
    }
    next++;
    noteClock(sample);
    thin();
    return new OutboxAppend.Kept(sample);
  }

  private void write(OutboxSample sample) throws IOException {
    Disk.AppendFile file = tailFile();
    long before = file.size();
    boolean waits = syncs.isDue(sample.uptime());
    try {
      file.append(RecordFormat.encode(sample));
      if (waits) {
        file.force();
      }
      syncs.appended(sample.uptime(), waits);
    } catch (IOException e) {
      undo(file, before);
      throw e;
    }
    segments.getLast().holds(sample.sequence());
    if (leavesOut && waits) {
      leaveOutNoMore();
    }
  }

  /** If that cannot be written, the next start leaves numbers out once more. */
  private void leaveOutNoMore() {
    try {
      machine.opened();
      leavesOut = false;
    } catch (IOException e) {
      Logger.debug("The start of the machine is not noted: {}", e.getMessage());
    }
  }

  private void undo(Disk.AppendFile file, long before) {
    try {
      file.cutTo(before);
    } catch (IOException e) {
      tail = Optional.empty();
      Logger.error("The outbox file ends with an incomplete record ({})", e.getMessage());
    }
  }

  private Disk.AppendFile tailFile() throws IOException {
    if (tail.isPresent() && tail.get().size() < options.segmentBytes()) {
      return tail.get();
    }
    closeTail();
    Segment segment = new Segment(folder.resolve(Segment.fileName(next)));
    Disk.AppendFile file = disk.open(segment.file());
    try {
      file.cutTo(0);
      file.append(ByteBuffer.wrap(SegmentScan.header(name)));
      WholeFile.forceFolder(segment.file());
    } catch (IOException e) {
      file.close();
      throw e;
    }
    segments.removeIf(same -> same.file().equals(segment.file()));
    segments.addLast(segment);
    tail = Optional.of(file);
    return file;
  }

  /** Samples from a number on, oldest first, at most {@code most} of them. */
  public synchronized List<OutboxSample> read(long from, int most) throws IOException {
    List<OutboxSample> found = new ArrayList<>();
    for (Segment segment : segments) {
      if (segment.last() < from) {
        continue;
      }
      for (OutboxSample sample : SegmentScan.of(segment.file()).samples()) {
        if (sample.sequence() >= from) {
          found.add(sample);
        }
        if (found.size() >= most) {
          return found;
        }
      }
    }
    return found;
  }

  /** The highest number given so far; 0 before the first. */
  public synchronized long last() {
    return next - 1;
  }

  /** Everything up to here is stored upstairs; 0 when nothing is. */
  public synchronized long mark() {
    return mark;
  }

  /** Samples that are held and not known to be stored. */
  public synchronized long waiting() {
    long waiting = 0;
    for (Segment segment : segments) {
      for (SequenceRange range : segment.held()) {
        waiting += Math.max(0, range.last() - Math.max(range.first() - 1, mark));
      }
    }
    return waiting;
  }

  /** Numbers above the mark that were given and are no longer held, lowest first. */
  public synchronized List<SequenceRange> lost() {
    List<SequenceRange> lost = new ArrayList<>();
    long expected = mark + 1;
    for (Segment segment : segments) {
      for (SequenceRange range : segment.held()) {
        if (range.first() > expected) {
          lost.add(new SequenceRange(expected, range.first() - 1));
        }
        expected = Math.max(expected, range.last() + 1);
      }
    }
    if (expected < next) {
      lost.add(new SequenceRange(expected, next - 1));
    }
    return lost;
  }

  /** When a start of the device began, from a sample that it made with its clock set. */
  public synchronized Optional<Instant> bootStart(String ofBoot) {
    return Optional.ofNullable(bootStarts.get(ofBoot));
  }

  /** Everything up to a number is stored upstairs: whole files below it are deleted. */
  public synchronized void forget(long upTo) {
    if (upTo <= mark || upTo > MarkFile.LARGEST) {
      return;
    }
    mark = upTo;
    if (upTo >= next) {
      Logger.warn("The dashboard stored sample {}, which was never measured here", upTo);
      next = upTo + 1;
    }
    boolean deletes = segments.size() > 1 && segments.getFirst().last() <= mark;
    if ((deletes || markFile.isDue(mark)) && markFile.write(mark)) {
      deleteForgotten();
    }
  }

  private void deleteForgotten() {
    while (segments.size() > 1 && segments.getFirst().last() <= mark) {
      delete(segments.removeFirst());
    }
  }

  private void thin() {
    long held = segments.stream().mapToLong(Segment::count).sum();
    while (held > options.mostSamples() && segments.size() > 1) {
      Segment oldest = segments.removeFirst();
      held -= oldest.count();
      Logger.warn("The outbox is full: the {} oldest samples were dropped", oldest.count());
      delete(oldest);
    }
  }

  private static void delete(Segment segment) {
    try {
      Files.deleteIfExists(segment.file());
    } catch (IOException e) {
      Logger.warn("{} cannot be deleted ({})", segment.file(), e.getMessage());
    }
  }

  /** Reads every file; gives the outbox's name. */
  private String scanAll() throws IOException {
    Optional<String> known = OutboxName.read(folder.resolve(NAME_FILE));
    List<Path> files;
    try (Stream<Path> list = Files.list(folder)) {
      files = list.filter(file -> file.toString().endsWith(Segment.SUFFIX)).sorted().toList();
    }
    for (int i = 0; i < files.size(); i++) {
      SegmentScan scan = SegmentScan.of(files.get(i));
      take(files.get(i), scan, i == files.size() - 1);
      known = known.isPresent() ? known : scan.outbox();
    }
    String found = known.orElseGet(OutboxName::random);
    WholeFile.replace(folder.resolve(NAME_FILE), MarkFile.line(found));
    return found;
  }

  private void take(Path file, SegmentScan scan, boolean newest) throws IOException {
    Segment segment = new Segment(file);
    for (OutboxSample sample : scan.samples()) {
      if (sample.sequence() >= next) {
        segment.holds(sample.sequence());
        next = sample.sequence() + 1;
        noteClock(sample);
      }
    }
    segments.addLast(segment);
    if (newest) {
      mendTail(file, scan);
    }
  }

  /** After a torn end the next number is free; after a damaged one it may have been sent. */
  private void mendTail(Path file, SegmentScan scan) throws IOException {
    if (scan.tail() instanceof SegmentScan.Tail.Damaged damaged) {
      next += damaged.bytes() / RecordFormat.SMALLEST_RECORD + 1;
      Logger.warn("The end of {} is damaged: some samples are lost", file.getFileName());
      return;
    }
    if (scan.outbox().isEmpty()) {
      return;
    }
    Disk.AppendFile reopened = disk.open(file);
    reopened.cutTo(scan.goodBytes());
    tail = Optional.of(reopened);
  }

  private void noteClock(OutboxSample sample) {
    if (sample.wallClockSet()) {
      bootStarts.put(sample.boot(), sample.wall().minus(sample.uptime()));
    }
  }

  private static FileChannel locked(Path file) throws IOException {
    FileChannel channel =
        FileChannel.open(file, StandardOpenOption.CREATE, StandardOpenOption.WRITE);
    try {
      FileLock held = channel.tryLock();
      if (held != null) {
        return channel;
      }
    } catch (OverlappingFileLockException e) {
      Logger.debug("This program already has the outbox open");
    }
    channel.close();
    throw new OutboxInUse(Optional.ofNullable(file.toAbsolutePath().getParent()).orElse(file));
  }

  private void closeTail() throws IOException {
    if (tail.isPresent()) {
      Disk.AppendFile file = tail.get();
      tail = Optional.empty();
      file.force();
      syncs.allSynced();
      file.close();
    }
  }

  @Override
  public synchronized void close() throws IOException {
    if (mark > markFile.written()) {
      markFile.write(mark);
    }
    try {
      closeTail();
      if (!leavesOut) {
        machine.closed();
      }
    } finally {
      lock.close();
    }
  }
}
