package org.layroom.device.bus;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Timeout.ThreadMode.SEPARATE_THREAD;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.device.pace.SteppedPace;

/**
 * Thermometers read ahead; a pipe in the place of a file lets its reader wait, as the kernel does.
 */
class KernelOneWireTest {
  private static final String MOLD = "28-0316a279f1ff";
  private static final String CAN = "28-0416a279f1ff";

  @TempDir Path devices;
  private final SteppedPace pace = new SteppedPace(Instant.EPOCH);

  private Path folder(String id) throws IOException {
    return Files.createDirectories(devices.resolve(id));
  }

  private Path file(String id) throws IOException {
    return folder(id).resolve("w1_slave");
  }

  private Path pipe(String id) throws IOException, InterruptedException {
    Path pipe = file(id);
    assertEquals(0, new ProcessBuilder("mkfifo", pipe.toString()).start().waitFor());
    return pipe;
  }

  /** Linux kernel documentation, w1_therm.rst, "therm_bulk_read" (from memory). */
  @Test
  void allConvertAtOnceWhereTheKernelLetsUs(@TempDir Path folder) throws IOException {
    KernelOneWire wire = new KernelOneWire(folder, new SteppedPace(Instant.EPOCH));
    wire.convertAll();
    Path master = Files.createDirectories(folder.resolve("w1_bus_master1"));
    wire.convertAll();
    assertFalse(
        Files.exists(master.resolve("therm_bulk_read")), "an older kernel has no such file");
    Files.createFile(master.resolve("therm_bulk_read"));
    wire.convertAll();
    assertEquals("trigger\n", Files.readString(master.resolve("therm_bulk_read")));
  }

  @Test
  @Timeout(value = 600, threadMode = SEPARATE_THREAD)
  void noThermometerIsReadOnlyWhenAnotherHasAnswered() throws Exception {
    Path mold = pipe(MOLD);
    Path can = pipe(CAN);
    KernelOneWire wire = new KernelOneWire(devices, pace);
    wire.readAhead();
    Files.writeString(can, "can");
    Files.writeString(mold, "mold");
    assertEquals("mold", wire.slaveText(MOLD));
    assertEquals("can", wire.slaveText(CAN));
  }

  @Test
  @Timeout(value = 600, threadMode = SEPARATE_THREAD)
  void whatIsReadAheadIsNotReadTwice() throws Exception {
    Path mold = pipe(MOLD);
    KernelOneWire wire = new KernelOneWire(devices, pace);
    wire.readAhead();
    wire.readAhead();
    Files.writeString(mold, "first");
    assertEquals("first", wire.slaveText(MOLD));
  }

  @Test
  void whatWasReadTooLongAgoIsReadAnew() throws Exception {
    Files.writeString(file(MOLD), "then");
    KernelOneWire wire = new KernelOneWire(devices, pace);
    wire.readAhead();
    pace.advanceBy(Duration.ofSeconds(11));
    Files.writeString(file(MOLD), "now");
    assertEquals("now", wire.slaveText(MOLD));
  }

  @Test
  void whatWasReadAheadIsToldOnce() throws Exception {
    Files.writeString(file(MOLD), "then");
    KernelOneWire wire = new KernelOneWire(devices, pace);
    wire.readAhead();
    assertEquals("then", wire.slaveText(MOLD));
    Files.writeString(file(MOLD), "now");
    assertEquals("now", wire.slaveText(MOLD));
  }

  @Test
  void aThermometerThatGoesMeanwhileIsAFault() throws Exception {
    folder(MOLD);
    KernelOneWire wire = new KernelOneWire(devices, pace);
    wire.readAhead();
    BusFault gone = assertThrows(BusFault.class, () -> wire.slaveText(MOLD));
    assertTrue(gone.reason().contains(MOLD + " does not answer"), gone.reason());
  }

  @Test
  void whoStopsMeanwhileNeedNotWait() throws Exception {
    Path mold = pipe(MOLD);
    KernelOneWire wire = new KernelOneWire(devices, pace);
    wire.readAhead();
    Thread.currentThread().interrupt();
    assertThrows(BusFault.class, () -> wire.slaveText(MOLD));
    assertTrue(Thread.interrupted(), "whoever called knows that it is to stop");
    Files.writeString(mold, "for the thread that still waits");
  }

  @Test
  void withoutTheKernelsFolderNothingIsRead() {
    new KernelOneWire(devices.resolve("none"), pace).readAhead();
  }
}
