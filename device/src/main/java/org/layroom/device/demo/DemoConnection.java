package org.layroom.device.demo;

import java.net.URI;
import java.nio.file.Path;
import org.layroom.device.telemetry.Channel;

/**
 * How a demo device is connected.
 *
 * @param broker such as {@code mqtt://localhost:41883}
 * @param outboxDirectory made when it is not there; one device at a time
 */
public record DemoConnection(URI broker, Channel channel, Path outboxDirectory) {}
