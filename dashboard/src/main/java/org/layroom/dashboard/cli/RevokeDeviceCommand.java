package org.layroom.dashboard.cli;

import org.layroom.dashboard.answer.Answer;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Parameters;

/** {@code layroom revoke-device}: a device does not come in any more, even if it is inside now. */
@Command(
    name = "revoke-device",
    mixinStandardHelpOptions = true,
    description = "Takes a device's password away and ends its connection. What it sent stays.",
    footer = {"", "  layroom revoke-device bench"})
final class RevokeDeviceCommand extends AnswerCommand {
  @Parameters(paramLabel = "DEVICE", description = "Its name, as in its settings.")
  String device = "";

  @Mixin RoomChoice watched = new RoomChoice();

  @Override
  Answer answer() throws Failure {
    return DeviceChange.ask("revoke", device, watched);
  }
}
