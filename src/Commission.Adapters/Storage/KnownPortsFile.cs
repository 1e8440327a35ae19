using System.Text.Json;
using Commission.Workshop.Ports;

namespace Commission.Adapters.Storage;

/// <summary>The ports of machines in a small file beside the journal. It is written whole; one that is missing or damaged remembers nothing.</summary>
/// <param name="folder">Folder of the store.</param>
public sealed class KnownPortsFile(string folder) : IKnownPorts
{
    private const long Longest = 1 << 20;

    // Screens ask many times a second; nobody else writes while the store is open.
    private SortedDictionary<string, KnownPort>? known;

    private string Place => Path.Combine(folder, "ports");

    /// <inheritdoc/>
    public KnownPort? Of(string machine) => (known ??= Read()).GetValueOrDefault(machine);

    /// <inheritdoc/>
    public void Keep(string machine, KnownPort port)
    {
        var ports = known ??= Read();
        if (ports.GetValueOrDefault(machine) == port)
            return;
        ports[machine] = port;
        Write(ports);
    }

    /// <inheritdoc/>
    public void Forget(string machine)
    {
        var ports = known ??= Read();
        if (ports.Remove(machine))
            Write(ports);
    }

    private SortedDictionary<string, KnownPort> Read()
    {
        var read = new SortedDictionary<string, KnownPort>(StringComparer.Ordinal);
        try
        {
            var file = new FileInfo(Place);
            if (!file.Exists || file.Length > Longest)
                return read;
            using var json = JsonDocument.Parse(File.ReadAllBytes(Place));
            foreach (var machine in json.RootElement.EnumerateObject())
            {
                int? baud = machine.Value.TryGetProperty("baud", out var speed) ? speed.GetInt32() : null;
                read[machine.Name] = new KnownPort(machine.Value.GetProperty("port").GetString()!, machine.Value.GetProperty("dialect").GetString()!, baud)
                {
                    ControlLines = !machine.Value.TryGetProperty("controlLines", out var lines) || lines.GetBoolean(),
                };
            }
        }
        catch (Exception damaged) when (damaged is IOException or UnauthorizedAccessException or JsonException or InvalidOperationException or KeyNotFoundException or FormatException)
        {
            read.Clear();
        }

        return read;
    }

    private void Write(SortedDictionary<string, KnownPort> known)
    {
        try
        {
            Disk.Replace(Place, part =>
            {
                using var json = new Utf8JsonWriter(part);
                Write(json, known);
            });
            Disk.FlushFolder(folder);
        }
        catch (Exception refused) when (refused is IOException or UnauthorizedAccessException)
        {
            // What is not remembered is chosen on the controller's page.
        }
    }

    private static void Write(Utf8JsonWriter json, SortedDictionary<string, KnownPort> known)
    {
        json.WriteStartObject();
        foreach (var (machine, port) in known)
        {
            json.WriteStartObject(machine);
            json.WriteString("port", port.Port);
            json.WriteString("dialect", port.Dialect);
            if (port.Baud is { } baud)
                json.WriteNumber("baud", baud);
            if (!port.ControlLines)
                json.WriteBoolean("controlLines", false);
            json.WriteEndObject();
        }

        json.WriteEndObject();
    }
}
