using Commission.Tests;

namespace Commission.Adapters.Tests.Storage;

public sealed class KnownPortsFileTests : OwnFolder
{
    [Fact]
    public void A_port_is_remembered_for_its_machine_until_it_is_forgotten()
    {
        new KnownPortsFile(Folder).Keep("Heron", new("port 1", "numbered-settings", 115200));
        new KnownPortsFile(Folder).Keep("Egret", new("port 2", "letter-words", null));
        new KnownPortsFile(Folder).Keep("Wren", new("port 3", "letter-words", null) { ControlLines = false });
        var again = new KnownPortsFile(Folder);
        Assert.Equal(new KnownPort("port 3", "letter-words", null) { ControlLines = false }, again.Of("Wren"));
        Assert.Equal(new KnownPort("port 1", "numbered-settings", 115200), again.Of("Heron"));
        Assert.Equal(new KnownPort("port 2", "letter-words", null), again.Of("Egret"));
        again.Forget("Heron");
        Assert.Null(again.Of("Heron"));
        Assert.Null(new KnownPortsFile(Folder).Of("Heron"));
        Assert.Equal([Path.Combine(Folder, "ports")], Directory.GetFiles(Folder));
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
        File.WriteAllText(Path.Combine(Folder, "ports"), text);
        var known = new KnownPortsFile(Folder);
        Assert.Null(known.Of("Heron"));
        known.Keep("Heron", new("port 1", "numbered-settings", null));
        Assert.Equal("port 1", new KnownPortsFile(Folder).Of("Heron")!.Port);
    }

    [Fact]
    public void A_folder_that_is_not_there_is_no_trouble()
    {
        var known = new KnownPortsFile(Path.Combine(Folder, "none"));
        known.Keep("Heron", new("port 1", "numbered-settings", null));
        known.Forget("Egret");
        Assert.Null(new KnownPortsFile(Path.Combine(Folder, "none")).Of("Heron"));
    }
}
