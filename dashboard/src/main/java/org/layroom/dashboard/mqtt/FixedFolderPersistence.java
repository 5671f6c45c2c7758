package org.layroom.dashboard.mqtt;

import java.nio.file.Path;
import org.eclipse.paho.client.mqttv3.MqttPersistenceException;
import org.eclipse.paho.client.mqttv3.persist.MqttDefaultFilePersistence;

/**
 * The library's file persistence, in one folder whatever the broker's address is: the broker inside
 * the dashboard may come up on another port at each start.
 */
final class FixedFolderPersistence extends MqttDefaultFilePersistence {
  FixedFolderPersistence(Path folder) {
    super(folder.toString());
  }

  @Override
  public void open(String clientId, String connection) throws MqttPersistenceException {
    super.open(clientId, "broker");
  }
}
