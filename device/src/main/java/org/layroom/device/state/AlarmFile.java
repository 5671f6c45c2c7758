package org.layroom.device.state;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import java.util.function.Supplier;
import org.layroom.device.alarm.AlarmMemory;
import org.layroom.device.alarm.AlarmStore;
import org.layroom.device.pace.Pace;
import org.tinylog.Logger;

/**
 * The alarm's memory in the data folder. It is written by a thread of its own, so that a slow card
 * holds up no lamp. Safe for several threads.
 */
public final class AlarmFile implements AlarmStore {
  private final StateFile file;
  private final Pace pace;
  private final Supplier<Optional<MachineUptime>> machine;
  private final Object writing = new Object();
  private Optional<AlarmRecord> waiting = Optional.empty();
  private boolean complained;

  /**
   * The alarm's file.
   *
   * @param folder the device's data folder
   * @param pace whose thread writes; closed with this
   */
  public AlarmFile(Path folder, Pace pace) {
    this(folder, pace, MachineUptime::now);
  }

  AlarmFile(Path folder, Pace pace, Supplier<Optional<MachineUptime>> machine) {
    file = new StateFile(folder.resolve("alarm.json"));
    this.pace = pace;
    this.machine = machine;
  }

  /** What a program that was killed has kept; empty when nothing can be read. */
  public static Optional<AlarmMemory> left(Path folder) {
    return read(new StateFile(folder.resolve("alarm.json"))).map(AlarmRecord::memory);
  }

  private static Optional<AlarmRecord> read(StateFile file) {
    try {
      Optional<byte[]> content = file.read();
      return content.isPresent() ? Optional.of(AlarmRecord.read(content.get())) : Optional.empty();
    } catch (IOException e) {
      Logger.warn("The alarm's state saved in {} cannot be read: {}", file, e.getMessage());
      return Optional.empty();
    }
  }

  @Override
  public Optional<Recorded> recall() {
    Optional<Instant> wall = pace.wallClockSet() ? Optional.of(pace.now()) : Optional.empty();
    return read(file)
        .map(
            one -> {
              Optional<Duration> age = one.age(machine.get(), wall);
              return new Recorded(one.memory(), one.at(), one.atBelieved(), age);
            });
  }

  @Override
  public void keep(AlarmMemory memory, Instant at, boolean atBelieved) {
    AlarmRecord next = new AlarmRecord(memory, at, atBelieved, machine.get());
    synchronized (this) {
      boolean begun = waiting.isPresent();
      waiting = Optional.of(next);
      if (begun) {
        return;
      }
    }
    pace.after(Duration.ZERO, this::write);
  }

  private void write() {
    synchronized (writing) {
      Optional<AlarmRecord> next;
      synchronized (this) {
        next = waiting;
        waiting = Optional.empty();
      }
      next.ifPresent(this::write);
    }
  }

  private void write(AlarmRecord next) {
    try {
      file.write(next.write());
      complained = false;
    } catch (IOException e) {
      if (!complained) {
        Logger.warn("The alarm's state cannot be saved in {}: {}", file, e.getMessage());
      }
      complained = true;
    }
  }

  @Override
  public void close() {
    write();
    pace.close();
  }
}
