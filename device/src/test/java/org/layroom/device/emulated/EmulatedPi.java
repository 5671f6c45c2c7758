package org.layroom.device.emulated;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.fail;

import java.io.BufferedReader;
import java.io.File;
import java.io.IOException;
import java.io.InputStreamReader;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.TimeUnit;

/**
 * A Raspberry Pi 3B in an emulator, driven over its serial line: each command goes to a shell in
 * it, and its lines come back. Scripts and simulated buses: {@code src/emulated-pi}.
 */
final class EmulatedPi implements AutoCloseable {
  private static final Path SCRIPTS = Path.of("src", "emulated-pi");
  private static final String READY = "pi: ready";
  private static final String DONE = "pi: done ";
  private static final String ENDED = "the emulator has ended";
  private static final Duration BOOT = Duration.ofMinutes(3);
  private static final Duration COMMAND = Duration.ofMinutes(2);

  private final Process emulator;
  private final OutputStream serialIn;
  private final BlockingQueue<String> serialOut = new LinkedBlockingQueue<>();

  private EmulatedPi(Process emulator) {
    this.emulator = emulator;
    this.serialIn = emulator.getOutputStream();
    Thread reader = new Thread(this::listen, "emulated-pi-serial");
    reader.setDaemon(true);
    reader.start();
  }

  /**
   * Makes what is missing, and boots.
   *
   * @param work folder of what is made once: about 2 GB
   * @param app becomes {@code /app}
   */
  static EmulatedPi boot(Path work, Path app) throws IOException, InterruptedException {
    Process build =
        new ProcessBuilder(SCRIPTS.resolve("build.sh").toString(), work.toString())
            .redirectErrorStream(true)
            .start();
    String said = new String(build.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
    System.out.print(said);
    assertEquals(0, build.waitFor(), said);
    File errors = work.resolve("emulator.log").toFile();
    EmulatedPi pi =
        new EmulatedPi(
            new ProcessBuilder(
                    SCRIPTS.resolve("boot.sh").toString(), work.toString(), app.toString())
                .redirectError(errors)
                .start());
    try {
      pi.linesUpTo(READY, BOOT);
      return pi;
    } catch (InterruptedException | RuntimeException | Error e) {
      pi.close();
      throw e;
    }
  }

  private void listen() {
    try (BufferedReader lines =
        new BufferedReader(
            new InputStreamReader(emulator.getInputStream(), StandardCharsets.UTF_8))) {
      lines.lines().map(String::strip).forEach(serialOut::add);
    } catch (IOException | UncheckedIOException e) {
      serialOut.add(String.valueOf(e.getMessage()));
    }
    serialOut.add(ENDED);
  }

  /** Runs a shell command to its end; the test fails unless its exit code is 0. */
  List<String> run(String command) throws IOException, InterruptedException {
    serialIn.write((command + "\n").getBytes(StandardCharsets.UTF_8));
    serialIn.flush();
    List<String> lines = linesUpTo(DONE, COMMAND);
    assertEquals(DONE + "0", lines.remove(lines.size() - 1), command + ": " + lines);
    return lines;
  }

  private List<String> linesUpTo(String start, Duration patience) throws InterruptedException {
    List<String> lines = new ArrayList<>();
    long end = System.nanoTime() + patience.toNanos();
    while (true) {
      Optional<String> line =
          Optional.ofNullable(serialOut.poll(end - System.nanoTime(), TimeUnit.NANOSECONDS));
      if (line.isEmpty() || line.get().equals(ENDED)) {
        return fail("no \"" + start + "\" on the serial line; seen: " + lines);
      }
      lines.add(line.get());
      if (line.get().startsWith(start)) {
        return lines;
      }
    }
  }

  @Override
  public void close() throws InterruptedException {
    List<ProcessHandle> all = new ArrayList<>(emulator.descendants().toList());
    emulator.destroy();
    if (!emulator.waitFor(10, TimeUnit.SECONDS)) {
      emulator.destroyForcibly();
    }
    all.forEach(ProcessHandle::destroyForcibly);
  }
}
