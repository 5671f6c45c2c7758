package org.layroom.dashboard.fault;

import java.io.IOException;
import java.net.URI;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.layroom.dashboard.cli.ShippedJars;

/** A device on the other side of something that can be pulled out. */
interface Cable extends AutoCloseable {
  /** What it is made of, for the table. */
  String words();

  /** Where the broker must listen to be reached through it. */
  String brokerAddress();

  /** Where the device finds that broker. */
  URI door(URI broker) throws IOException;

  /** What starts a program on the other side. */
  List<String> start();

  void pullOut() throws IOException, InterruptedException;

  void plugIn() throws IOException, InterruptedException;

  @Override
  void close() throws IOException, InterruptedException;

  /** The shipped device on the other side, a hundred samples a second. */
  default Process device(Paired paired, URI broker, Path folder) throws IOException {
    Path config =
        paired.settings(
            folder, door(broker), folder.resolve("device"), "sample-seconds=1\nspeed=100\n");
    List<String> command = new ArrayList<>(start());
    command.add(Path.of(System.getProperty("java.home"), "bin", "java").toString());
    command.addAll(List.of("-jar", ShippedJars.DEVICE.toString(), "--simulate"));
    command.addAll(List.of("--config", config.toString()));
    return new ProcessBuilder(command)
        .redirectErrorStream(true)
        .redirectOutput(folder.resolve("device.log").toFile())
        .start();
  }
}
