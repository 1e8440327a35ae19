namespace Commission.Adapters.Tests.Storage;

public sealed class KnownPortsFileTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("ports").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void A_port_is_remembered_for_its_machine_until_it_is_forgotten()
    {
        new KnownPortsFile(_folder).Keep("Heron", new("port 1", "numbered-settings", 115200));
        new KnownPortsFile(_folder).Keep("Egret", new("port 2", "letter-words", null));
        new KnownPortsFile(_folder).Keep("Wren", new("port 3", "letter-words", null) { ControlLines = false });
        var again = new KnownPortsFile(_folder);
        Assert.Equal(new KnownPort("port 3", "letter-words", null) { ControlLines = false }, again.Of("Wren"));
        Assert.Equal(new KnownPort("port 1", "numbered-settings", 115200), again.Of("Heron"));
        Assert.Equal(new KnownPort("port 2", "letter-words", null), again.Of("Egret"));
        again.Forget("Heron");
        Assert.Null(again.Of("Heron"));
        Assert.Null(new KnownPortsFile(_folder).Of("Heron"));
        Assert.Equal([Path.Combine(_folder, "ports")], Directory.GetFiles(_folder));
    }

    [Theory]
    [InlineData("")]
    [InlineData("{\"Heron\":{\"port\":\"po")]
    [InlineData("{\"Heron\":3}")]
    [InlineData("{\"Heron\":{\"port\":\"port 1\"}}")]
    [InlineData("{\"Heron\":{\"port\":\"port 1\",\"dialect\":\"letter-words\",\"controlLines\":3}}")]
    [InlineData("[]")]
    public void A_damaged_file_remembers_nothing_and_is_replaced_whole(string text)
    {
        File.WriteAllText(Path.Combine(_folder, "ports"), text);
        var known = new KnownPortsFile(_folder);
        Assert.Null(known.Of("Heron"));
        known.Keep("Heron", new("port 1", "numbered-settings", null));
        Assert.Equal("port 1", new KnownPortsFile(_folder).Of("Heron")!.Port);
    }

    [Fact]
    public void A_folder_that_is_not_there_is_no_trouble()
    {
        var known = new KnownPortsFile(Path.Combine(_folder, "none"));
        known.Keep("Heron", new("port 1", "numbered-settings", null));
        known.Forget("Egret");
        Assert.Null(new KnownPortsFile(Path.Combine(_folder, "none")).Of("Heron"));
    }
}
