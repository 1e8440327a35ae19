using System.Text;
using Commission.Core.Quantities;

namespace Commission.Core.Tests.Quantities;

public sealed class Sha256Tests
{
    // NIST, "Secure Hashing: example values", SHA-256 (the two messages of FIPS 180-2, appendix B.1 and B.2), and the empty message.
    [Theory]
    [InlineData("abc", "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad")]
    [InlineData("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq", "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1")]
    [InlineData("", "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855")]
    public void The_published_examples_are_met(string message, string hash) => Assert.Equal(hash, Sha256.Hex(Encoding.ASCII.GetBytes(message)));

    // FIPS 180-2, appendix B.3: one million letters a.
    [Fact]
    public void The_long_published_example_is_met() => Assert.Equal(
        "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0", Sha256.Hex(Encoding.ASCII.GetBytes(new string('a', 1_000_000))));

    // The framework's own is a second implementation; where it cannot be loaded this test cannot run, the program can.
    [Fact]
    public void Every_length_around_a_block_agrees_with_a_second_implementation()
    {
        for (var length = 0; length < 300; length++)
        {
            var data = Enumerable.Range(0, length).Select(at => (byte)(at * 37 + length)).ToArray();
            Assert.Equal(Convert.ToHexStringLower(System.Security.Cryptography.SHA256.HashData(data)), Sha256.Hex(data));
        }
    }
}
