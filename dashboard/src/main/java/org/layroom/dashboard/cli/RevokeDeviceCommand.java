package org.layroom.dashboard.cli;

import org.layroom.dashboard.answer.Answer;
import org.layroom.dashboard.app.StartFailure;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Parameters;

/** {@code layroom revoke-device}: removes a device's access, also while it is connected. */
@Command(
    name = "revoke-device",
    mixinStandardHelpOptions = true,
    description = "Removes a device's password and ends its connection. Its stored readings stay.",
    footer = {"", "  layroom revoke-device bench"})
final class RevokeDeviceCommand extends AnswerCommand {
  @Parameters(paramLabel = "DEVICE", description = "Device name, as in its settings.")
  String device = "";

  @Mixin RoomChoice watched = new RoomChoice();

  @Override
  Answer answer() throws StartFailure {
    return DeviceChange.ask("revoke", device, watched);
  }
}
